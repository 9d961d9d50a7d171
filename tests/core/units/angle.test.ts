import { describe, expect, expectTypeOf, test } from "vitest";
import {
  backBearing,
  gridBearing,
  type GridBearing,
  gridToTrue,
  magneticBearing,
  type MagneticBearing,
  magneticToTrue,
  normalise180,
  normalise360,
  trueBearing,
  type TrueBearing,
  trueToGrid,
  trueToMagnetic,
} from "../../../core/units/angle.ts";

// Source: US Army Soldier's Manual of Common Tasks (STP 21-1-SMCT), converting azimuths: with a G-M angle of 9° E
// a magnetic azimuth of 190° is a grid azimuth of 199°.
test("190° magnetic with a grid–magnetic angle of 9° east is 199° grid", () => {
  expect(trueToGrid(magneticToTrue(magneticBearing(190), 9), 0)).toBe(199);
});

// Worked by hand from the manual's rule: magnetic = grid − (declination − convergence).
test.each([
  [190, 9, 181],
  [210, 12, 198],
  [4, 9, 355],
  [0, -3.5, 3.5],
  [357, -6, 3],
  [359.5, 2, 357.5],
  [90, 0, 90],
  [180, -11.5, 191.5],
  [270, 8, 262],
  [1, 1, 0],
  [355, -10, 5],
  [45, 17.5, 27.5],
])("%d° grid with a grid–magnetic angle of %d° is %d° magnetic", (grid, angle, magnetic) => {
  const convergence = 1.25;
  expect(trueToMagnetic(gridToTrue(gridBearing(grid), convergence), angle + convergence)).toBeCloseTo(
    magnetic,
    10,
  );
});

// Worked by hand: true = magnetic + declination = grid + convergence.
test.each([
  [10, -1.5, 100, 111.5, 110],
  [-4, 0.75, 350, 345.25, 346],
  [18, 2, 355, 11, 13],
  [-15.5, -2, 3, 349.5, 347.5],
  [0, 1.2, 0, 358.8, 0],
])(
  "declination %d°, convergence %d°: %d° magnetic is %d° grid and %d° true",
  (declination, convergence, magnetic, grid, true_) => {
    const t = magneticToTrue(magneticBearing(magnetic), declination);
    expect(t).toBeCloseTo(true_, 10);
    expect(trueToGrid(t, convergence)).toBeCloseTo(grid, 10);
    expect(gridToTrue(gridBearing(grid), convergence)).toBeCloseTo(true_, 10);
    expect(trueToMagnetic(trueBearing(true_), declination)).toBeCloseTo(magnetic, 10);
  },
);

// Source: rule of US Army TC 3-25.26 (2013), back azimuth: 180 more or 180 less.
test.each([
  [0, 180],
  [27, 207],
  [90, 270],
  [163, 343],
  [180, 0],
  [200, 20],
  [213, 33],
  [359, 179],
])("back from %d° is %d°", (there, back) => expect(backBearing(magneticBearing(there))).toBe(back));

describe("into one turn", () => {
  test.each([
    [0, 0],
    [360, 0],
    [-0, 0],
    [-1e-17, 0],
    [-90, 270],
    [725, 5],
    [-725, 355],
    [359.999999, 359.999999],
  ])("%d → %d", (a, b) => {
    expect(normalise360(a)).toBe(b);
    expect(Object.is(normalise360(a), -0)).toBe(false);
  });
  test.each([
    [0, 0],
    [180, -180],
    [-180, -180],
    [181, -179],
    [-190, 170],
    [540, -180],
  ])("%d → %d the smaller way", (a, b) => expect(normalise180(a)).toBe(b));
});

test("one north is not taken for another", () => {
  expectTypeOf<GridBearing>().not.toExtend<MagneticBearing>();
  expectTypeOf<MagneticBearing>().not.toExtend<TrueBearing>();
  // @ts-expect-error a grid bearing where a true one is asked for
  trueToMagnetic(gridBearing(10), 3);
  // @ts-expect-error a bare number says no north
  trueToGrid(10, 3);
});
