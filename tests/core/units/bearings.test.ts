import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { ABSENT } from "../../../core/units/format.ts";
import { degreesToMils, formatMils, milsToDegrees } from "../../../core/units/mils.ts";
import { parseBearing } from "../../../core/units/parse-bearing.ts";
import { formatQuadrant, fromQuadrant, toQuadrant } from "../../../core/units/quadrant.ts";

const plain = (text: string): string => text.replaceAll("\u00a0", " ");

// Source: US Army FM 21-26, para 6-1b: 6400 mils to the circle, 17.78 to the degree; the rest by hand from it.
test.each([
  [0.5, 8.8889],
  [1, 17.7778],
  [3, 53.3333],
  [9, 160],
  [45, 800],
  [90, 1600],
  [123.4, 2193.7778],
  [180, 3200],
  [270, 4800],
  [359, 6382.2222],
])("%d° are %d mils", (degrees, mils) => {
  expect(degreesToMils(degrees)).toBeCloseTo(mils, 4);
  expect(milsToDegrees(mils)).toBeCloseTo(degrees, 4);
});

// Worked by hand: the back bearing lies 3200 mils on.
test.each([
  [0, 3200],
  [800, 4000],
  [3199, 6399],
  [3200, 0],
  [5600, 2400],
])("back from %d mils is %d", (there, back) =>
  expect(formatMils(milsToDegrees(there) + 180, 1)).toBe(`${back}\u00a0mils`),
);

test.each([
  [51, 10, "910 mils"],
  [51, 20, "900 mils"],
  [359.8, 10, "0 mils"],
  [359.8, 1, "6396 mils"],
  [359.999, 1, "0 mils"],
  [-1, 10, "6380 mils"],
] as const)("%d° on marks of %d mils: %s", (degrees, graduation, text) =>
  expect(plain(formatMils(degrees, graduation))).toBe(text),
);

// Common practice of surveyors, no source: the angle is counted from the nearer of north and south.
test.each([
  [0, "N"],
  [40, "N 40° E"],
  [90, "E"],
  [130, "S 50° E"],
  [180, "S"],
  [230, "S 50° W"],
  [270, "W"],
  [320, "N 40° W"],
  [359.7, "N"],
  [45.4, "N 45° E"],
] as const)("%d° is %s", (degrees, text) => {
  expect(plain(formatQuadrant(degrees))).toBe(text);
});

test("absent bearings", () => {
  expect(formatMils(null)).toBe(ABSENT);
  expect(formatQuadrant(Number.NaN)).toBe(ABSENT);
});

test("quadrant bearings there and back, and their text read back", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 359_999 }), (thousandths) => {
      const bearing = thousandths / 1000;
      const quadrant = toQuadrant(bearing);
      expect(quadrant.degrees).toBeGreaterThanOrEqual(0);
      expect(quadrant.degrees).toBeLessThanOrEqual(90);
      expect(fromQuadrant(quadrant)).toBeCloseTo(bearing, 9);
      expect(
        Math.abs(((parseBearing(formatQuadrant(bearing)) - bearing + 540) % 360) - 180),
      ).toBeLessThanOrEqual(0.5);
      expect(
        Math.abs(((parseBearing(formatMils(bearing, 1)) - bearing + 540) % 360) - 180),
      ).toBeLessThanOrEqual(0.03);
    }),
    { numRuns: 2000 },
  );
});

describe("bearings as typed", () => {
  test.each([
    ["51", 51],
    ["051°", 51],
    ["51.5 deg", 51.5],
    ["51,5", 51.5],
    ["51° 30′", 51.5],
    ["910 mils", 51.1875],
    ["6400 mils", 0],
    ["360", 0],
    ["0", 0],
    ["N", 0],
    ["west", 270],
    ["N 40° W", 320],
    ["n40w", 320],
    ["S 50 E", 130],
    ["S 50° 30' W", 230.5],
    ["north 40 west", 320],
    ["N 90 E", 90],
  ] as const)("%j", (text, degrees) => expect(parseBearing(text)).toBeCloseTo(degrees, 9));

  test.each([
    ["", "is not a bearing"],
    ["NW", "is not a bearing"],
    ["NaN", "is not a bearing"],
    ["361", "does not exist"],
    ["-1", "does not exist"],
    ["6401 mils", "0 to 6400"],
    ["N 91 E", "does not exist"],
    ["N 40", "one side only"],
    ["40 W", "one side only"],
    ["51° 60′", "minutes that cannot be"],
    ["51.5° 30′", "minutes that cannot be"],
    ["51 grad", "is not a bearing"],
    ["30′", "is not a bearing"],
  ] as const)("%j is refused", (text, reason) => {
    expect(() => parseBearing(text)).toThrow(Fault);
    expect(() => parseBearing(text)).toThrow(reason);
  });
});
