import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { fromMetres, lengthUnit, parseLength, toMetres } from "../../../core/units/length.ts";
import {
  feetPerInch,
  formatScale,
  groundLength,
  inchesPerMile,
  millimetresPerKm,
  paperLength,
  parseScale,
  scaleFromLengths,
} from "../../../core/units/scale.ts";
import { formatRatio, percentToDegrees, slopeDeg, slopePercent } from "../../../core/units/slope.ts";

// By hand from the representative fraction; 1:24 000 as one inch to 2000 feet and 1:63 360 as an inch to the mile are
// those of USGS Survey Manual 800.2.
test.each([
  [4800, 208.3333, 400, 13.2],
  [5000, 200, 416.6667, 12.672],
  [10_000, 100, 833.3333, 6.336],
  [15_000, 66.6667, 1250, 4.224],
  [20_000, 50, 1666.6667, 3.168],
  [24_000, 41.6667, 2000, 2.64],
  [25_000, 40, 2083.3333, 2.5344],
  [50_000, 20, 4166.6667, 1.2672],
  [62_500, 16, 5208.3333, 1.0138],
  [63_360, 15.7828, 5280, 1],
  [100_000, 10, 8333.3333, 0.6336],
])("1:%d: %d mm to 1 km, %d ft to 1 in, %d in to 1 mi", (scale, mm, feet, inches) => {
  expect(millimetresPerKm(scale)).toBeCloseTo(mm, 4);
  expect(feetPerInch(scale)).toBeCloseTo(feet, 4);
  expect(inchesPerMile(scale)).toBeCloseTo(inches, 4);
  expect(fromMetres(groundLength(0.001, scale), "m")).toBeCloseTo(scale / 1000, 9);
});

// Worked by hand: 2.5 cm on 1:50 000 is 1250 m; 3.2 in on 1:24 000 is 6400 ft, 1950.72 m; 137 mm for 3.425 km is 1:25 000.
test("ruler and ground", () => {
  expect(groundLength(toMetres(2.5, "cm"), 50_000)).toBeCloseTo(1250, 9);
  expect(groundLength(parseLength("3.2 in"), 24_000)).toBeCloseTo(1950.72, 9);
  expect(fromMetres(paperLength(1950.72, 24_000), "in")).toBeCloseTo(3.2, 9);
  expect(scaleFromLengths(parseLength("137 mm"), parseLength("3.425 km"))).toBeCloseTo(25_000, 6);
});

describe("scales as typed", () => {
  test.each([
    ["1:25000", 25_000],
    ["1:25 000", 25_000],
    ["1:25,000", 25_000],
    ["1 : 25.000", 25_000],
    ["1/24000", 24_000],
    ["1:25\u202f000", 25_000],
    ["50000", 50_000],
    ["1:1 000 000", 1_000_000],
    ["2:50000", 25_000],
    ["1 inch = 2000 feet", 24_000],
    ["one inch equals 400 feet", 4800],
    ["1\" = 2000'", 24_000],
    ["1 in = 1 mi", 63_360],
    ["one inch to the mile", 63_360],
    ["2.5 inches to the mile", 25_344],
    ["4 cm = 1 km", 25_000],
    ["2cm to 1km", 50_000],
    ["1 cm = 100 m", 10_000],
    ["1 inch = 5 chains", 3960],
  ] as const)("%j", (text, scale) => expect(parseScale(text)).toBeCloseTo(scale, 6));

  test.each([
    "",
    "1:0",
    "0:25000",
    "1:5",
    "abc",
    "1 inch = 2000",
    "1 inch = 2000 stones",
    "NaN",
    "-25000",
    "1:25000:3",
  ])("%j is refused", (text) => expect(() => parseScale(text)).toThrow(Fault));

  test("written and read back", () => {
    for (const scale of [5000, 7500, 10_000, 24_000, 63_360, 1_000_000])
      expect(parseScale(formatScale(scale))).toBe(scale);
    expect(formatScale(25_000)).toBe("1:25\u202f000");
  });

  test("no scale from nothing", () => {
    for (const [paper, ground] of [
      [0, 1],
      [1, 0],
      [Number.NaN, 1],
      [1, 1],
    ] as const)
      expect(() => scaleFromLengths(paper, ground)).toThrow(Fault);
  });
});

describe("lengths as typed", () => {
  test.each([
    ["250 m", 250],
    ["250m", 250],
    ["1,5 km", 1500],
    ["2 miles", 3218.688],
    ["3.2 inches", 0.08128],
    ["10 chains", 201.168],
    ["1 foot", 0.3048],
    ["100 yds", 91.44],
    [".5 km", 500],
    ["1 250 m", 1250],
    ["5 metres", 5],
    ["5 meters", 5],
  ] as const)("%j", (text, metres) => expect(parseLength(text)).toBeCloseTo(metres, 9));
  test("a bare number needs a unit, or is given one", () => {
    expect(() => parseLength("250")).toThrow("has no unit");
    expect(parseLength("250", "ft")).toBeCloseTo(76.2, 9);
  });
  test.each(["", "m", "-5 m", "5 parsecs", "NaN m"])("%j is refused", (text) =>
    expect(() => parseLength(text)).toThrow(Fault),
  );
  test("a unit's names", () => {
    expect(lengthUnit("Miles")).toBe("mi");
    expect(lengthUnit("furlong")).toBeNull();
    expect(lengthUnit("s")).toBeNull();
  });
});

describe("slope", () => {
  // Source: US Army EN5622, figure 1-2: 100 m up over 1000 m is 10 %. Degrees by the exact arctangent.
  test("the course's ten percent", () => expect(slopePercent(slopeDeg(100, 1000))).toBeCloseTo(10, 9));
  test.each([
    [1, 0.5729],
    [2.33, 1.3348],
    [5, 2.8624],
    [10, 5.7106],
    [20, 11.3099],
    [30, 16.6992],
    [45, 24.2277],
    [60, 30.9638],
    [100, 45],
  ])("%d %% is %d°", (percent, degrees) => {
    expect(percentToDegrees(percent)).toBeCloseTo(degrees, 4);
    expect(slopeDeg(percent, 100)).toBeCloseTo(degrees, 4);
  });
  test("falling, a wall, and what has none", () => {
    expect(slopeDeg(-100, 100)).toBeCloseTo(-45, 9);
    expect(slopeDeg(5, 0)).toBe(90);
    for (const [rise, run] of [
      [0, 0],
      [1, -1],
      [Number.NaN, 1],
    ] as const)
      expect(() => slopeDeg(rise, run)).toThrow(Fault);
  });
  test.each([
    [5.7106, "1 in 10"],
    [-5.7106, "1 in 10"],
    [45, "1 in 1.0"],
    [0.01, "level"],
    [0, "level"],
    [null, "–"],
  ] as const)("%j°: %s", (degrees, text) =>
    expect(formatRatio(degrees).replaceAll("\u00a0", " ")).toBe(text),
  );
});
