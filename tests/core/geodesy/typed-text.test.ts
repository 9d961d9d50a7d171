import fc from "fast-check";
import { expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { parseBritish } from "../../../core/geodesy/british-reference.ts";
import { parsePosition } from "../../../core/geodesy/parse-position.ts";
import { parseEastWest } from "../../../core/geodesy/printed-declination.ts";
import { parseLength } from "../../../core/units/length.ts";
import { parseBearing } from "../../../core/units/parse-bearing.ts";
import { parseScale } from "../../../core/units/scale.ts";
import type { LonLat } from "../../../core/units/position.ts";

// Whatever is typed is read as something that makes sense, or refused with a Fault: never another error, never NaN.

const scraps = [
  ..."0 1 2 3 4 5 6 7 8 9".split(" "),
  ".",
  ",",
  " ",
  " ",
  "-",
  "+",
  "°",
  "'",
  '"',
  "′",
  "″",
  ":",
  ";",
  "/",
  "=",
  "N",
  "S",
  "E",
  "W",
  "n",
  "s",
  "Z",
  "T",
  "MT",
  "I",
  "O",
  "mils",
  "inch",
  "km",
  "ft",
  "to",
  "1:",
  "deg",
  "lat",
  "lon",
  "UTM",
  "zone",
  "north",
  "south",
  "UPS",
  "geo:",
  "(",
  ")",
  "[",
  "e9",
  "NaN",
  "\u00a0",
  "\u200e",
  "45",
  "123456",
  "4000000",
  "32T",
  "é",
  "😀",
];
const typed = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.array(fc.constantFrom(...scraps), { maxLength: 14 }).map((parts) => parts.join("")),
  },
  { weight: 1, arbitrary: fc.string({ unit: "grapheme", maxLength: 30 }) },
);
const near = fc.option(
  fc.tuple(fc.double({ min: -180, max: 180, noNaN: true }), fc.double({ min: -90, max: 90, noNaN: true })),
  { nil: null },
);

function attempt<T>(read: () => T): T | null {
  try {
    return read();
  } catch (thrown) {
    if (thrown instanceof Fault && thrown.what.endsWith(".")) return null;
    throw thrown;
  }
}

test("positions", () => {
  let readable = 0;
  fc.assert(
    fc.property(typed, near, (text, place: LonLat | null) => {
      const parsed = attempt(() => parsePosition(text, place));
      if (!parsed) return;
      readable++;
      const [lon, lat] = parsed.lonLat;
      expect(Math.abs(lat)).toBeLessThanOrEqual(90);
      expect(Math.abs(lon)).toBeLessThanOrEqual(180);
      expect(parsed.reference === null).toBe(parsed.notation !== "mgrs");
    }),
    { numRuns: 10_000 },
  );
  // The scraps do make positions now and then; otherwise this would test nothing.
  expect(readable).toBeGreaterThan(20);
});

test.each([
  ["bearings", parseBearing, 0, 359.9999999],
  ["scales", parseScale, 10, 1e9],
  ["lengths", parseLength, 0, Infinity],
  ["angles to east and west", parseEastWest, -Infinity, Infinity],
] as [string, (text: string) => number, number, number][])("%s", (_, parse, min, max) => {
  fc.assert(
    fc.property(typed, (text) => {
      const value = attempt(() => parse(text));
      if (value === null) return;
      expect(value).toBeGreaterThanOrEqual(min);
      expect(value).toBeLessThanOrEqual(max);
    }),
    { numRuns: 5000 },
  );
});

test("British references", () => {
  fc.assert(
    fc.property(typed, (text) => {
      const parsed = attempt(() => parseBritish(text));
      if (parsed) expect(Number.isFinite(parsed.lonLat[0] + parsed.lonLat[1])).toBe(true);
    }),
    { numRuns: 5000 },
  );
});
