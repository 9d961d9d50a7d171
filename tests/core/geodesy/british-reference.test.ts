import fc from "fast-check";
import { expect, test } from "vitest";
import { formatBritish, parseBritish } from "../../../core/geodesy/british-reference.ts";
import { britishGrid, toGrid } from "../../../core/geodesy/grid.ts";
import { Fault } from "../../../core/fault.ts";

// Source: Ordnance Survey, A Guide to Coordinate Systems in Great Britain: the worked example at 651409.903,
// 313177.270 is TG 51409 13177 (from memory).
test("the guide's example", () => {
  expect(formatBritish([651409.903, 313177.27])).toBe("TG 51409 13177");
  expect(formatBritish([651409.903, 313177.27], 100)).toBe("TG 514 131");
  expect(formatBritish([651409.903, 313177.27], 100_000)).toBe("TG");
  expect(parseBritish("tg 514 131").eastNorth).toEqual([651450, 313150]);
});

// Worked by hand from the lettering: S at the origin, N north of it, H north of that, T east of S.
test.each([
  [[0, 0], "SV"],
  [[100_000, 0], "SW"],
  [[400_000, 0], "SZ"],
  [[500_000, 0], "TV"],
  [[0, 400_000], "SA"],
  [[0, 500_000], "NV"],
  [[200_000, 700_000], "NN"],
  [[400_000, 1_200_000], "HP"],
  [[600_000, 300_000], "TG"],
  [[500_000, 100_000], "TQ"],
] as const)("%j lies in %s", (at, square) => expect(formatBritish([at[0], at[1]], 100_000)).toBe(square));

test("written and read back", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 699_999 }),
      fc.integer({ min: 0, max: 1_299_999 }),
      fc.constantFrom(1, 10, 100, 1000, 10_000),
      (e, n, precision) => {
        const { eastNorth, precisionM } = parseBritish(formatBritish([e, n], precision));
        expect(precisionM).toBe(precision);
        expect(Math.abs(eastNorth[0] - e)).toBeLessThanOrEqual(precision / 2);
        expect(Math.abs(eastNorth[1] - n)).toBeLessThanOrEqual(precision / 2);
      },
    ),
    { numRuns: 100_000 },
  );
});

test("on the ground", () => {
  const { lonLat } = parseBritish("NN 16650 71250");
  const at = toGrid(britishGrid(), lonLat);
  expect(at.eastingM).toBeCloseTo(216650.5, 2);
  expect(at.northingM).toBeCloseTo(771250.5, 2);
});

test.each([
  "",
  "T",
  "TG 514 13",
  "TG 51413",
  "TI 51 31",
  "AA 51 31",
  "TG 514090 131770",
  "TG x",
  "47.3, 8.5",
])("%j is refused", (text) => expect(() => parseBritish(text)).toThrow(Fault));
test("off the grid", () => {
  for (const at of [
    [-1, 0],
    [700_000, 0],
    [0, 1_300_000],
    [Number.NaN, 0],
  ] as const)
    expect(() => formatBritish(at)).toThrow(Fault);
  expect(() => formatBritish([0, 0], 5)).toThrow(Fault);
});
