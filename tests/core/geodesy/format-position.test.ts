import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { formatPosition, type PositionNotation } from "../../../core/geodesy/format-position.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import type { MgrsPrecision } from "../../../core/geodesy/mgrs.ts";
import { parsePosition } from "../../../core/geodesy/parse-position.ts";
import type { LonLat } from "../../../core/units/position.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");

// Worked by hand: 47.3769° = 47° 22.614′ = 47° 22′ 36.84″; UTM and MGRS are GeoConvert's (row u42 of utm.tsv).
test.each([
  ["dd", undefined, "47.37690° N 8.54170° E"],
  ["dd", 2, "47.38° N 8.54° E"],
  ["dm", undefined, "47° 22.614′ N 8° 32.502′ E"],
  ["dms", undefined, "47° 22′ 36.8″ N 8° 32′ 30.1″ E"],
  ["dms", 0, "47° 22′ 37″ N 8° 32′ 30″ E"],
  ["utm", undefined, "32 north 465403 5247151"],
  ["utm", 3, "32 north 465403.284 5247150.839"],
  ["mgrs", undefined, "32T MT 65403 47150"],
  ["mgrs", 100, "32T MT 654 471"],
] as const)("%s, %s: %s", (notation, decimals, text) =>
  expect(plain(formatPosition([8.5417, 47.3769], notation, decimals))).toBe(text),
);

test("minutes and seconds carry instead of showing 60", () => {
  expect(plain(formatPosition([-0.99999999, 46.99999999], "dm"))).toBe("47° 00.000′ N 1° 00.000′ W");
  expect(plain(formatPosition([179.99999999, -46.99999999], "dms"))).toBe("47° 00′ 00.0″ S 180° 00′ 00.0″ E");
});

test("the southern and western sides, and nought without a side of its own", () => {
  expect(plain(formatPosition([-70.5, -33.25], "dd", 2))).toBe("33.25° S 70.50° W");
  expect(plain(formatPosition([-1e-9, -1e-9], "dm"))).toBe("0° 00.000′ N 0° 00.000′ E");
  expect(plain(formatPosition([45, -80.000001], "utm"))).toBe("UPS south 2786975 2786975");
});

test("refused", () => {
  expect(() => formatPosition([0, 91], "dd")).toThrow(Fault);
  expect(() => formatPosition([Number.NaN, 0], "mgrs")).toThrow(Fault);
  expect(() => formatPosition([0, 0], "dd", 10)).toThrow(Fault);
});

const numRuns = 100_000;

describe(`what is written is read back as the same place (${numRuns} random positions each)`, () => {
  const anywhere: fc.Arbitrary<LonLat> = fc.tuple(
    fc.double({ min: -180, max: 180, noNaN: true, noDefaultInfinity: true }),
    fc.double({ min: -90, max: 90, noNaN: true, noDefaultInfinity: true }),
  );
  // fast-check favours tiny and special figures; a uniform draw covers the map as well.
  const uniform: fc.Arbitrary<LonLat> = fc
    .tuple(
      fc.integer({ min: -1_800_000_000, max: 1_800_000_000 }),
      fc.integer({ min: -900_000_000, max: 900_000_000 }),
    )
    .map(([lon, lat]) => [lon / 1e7, lat / 1e7]);
  const position = fc.oneof({ weight: 1, arbitrary: anywhere }, { weight: 4, arbitrary: uniform });

  // Metres the rounding can move a position: half a unit of the last figure each way, half a square's diagonal; at the pole a
  // metre of the grid is 1/0.994 m on the ground.
  const half = (metres: number): number => (metres / 2) * Math.SQRT2 * 1.001 + 1e-6;
  const cases: [PositionNotation, number, number][] = [
    ["dd", 5, half(111_700e-5)],
    ["dd", 9, half(111_700e-9)],
    ["dm", 3, half(111_700 / 60e3)],
    ["dms", 1, half(111_700 / 36_000)],
    ["utm", 0, half(1.007)],
    ["utm", 3, half(1.007e-3)],
    ["mgrs", 1, half(1.01)],
    ["mgrs", 100, half(101)],
    ["mgrs", 10_000, half(10_100)],
  ];
  test.each(cases)("%s, %d", { timeout: 120_000 }, (notation, decimals, withinM) => {
    fc.assert(
      fc.property(position, (lonLat) => {
        const text = formatPosition(lonLat, notation, decimals);
        const read = parsePosition(text);
        const kind = notation;
        if (read.notation !== kind) throw new Error(`${text} was read as ${read.notation}`);
        const off = inverse(lonLat, read.lonLat).distanceM;
        if (!(off <= withinM)) throw new Error(`${text} was read ${off} m off`);
      }),
      { numRuns },
    );
  });

  test("a reference is kept figure for figure", { timeout: 120_000 }, () => {
    fc.assert(
      fc.property(
        position,
        fc.constantFrom<MgrsPrecision>(1, 10, 100, 1000, 10_000, 100_000),
        (lonLat, precision) => {
          const text = formatPosition(lonLat, "mgrs", precision);
          if (parsePosition(text).reference !== text.replaceAll(" ", "")) throw new Error(text);
        },
      ),
      { numRuns },
    );
  });
});
