import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { slopeClasses } from "../../../core/terrain/slope-classes.ts";

const rise = (deg: number): number => Math.tan((deg * Math.PI) / 180);
const profile = (...points: readonly (readonly [d: number, h: number])[]) => ({
  distanceM: Float64Array.from(points, ([d]) => d),
  elevationM: Float64Array.from(points, ([, h]) => h),
});

describe("lengths by slope", () => {
  // Planes laid end to end, each a whole number of 20 m long: worked by hand.
  it("are those of the planes a leg goes over", () => {
    const h = [0, 200 * rise(3), 0, 0, 0, 0];
    h[2] = h[1]! + 100 * rise(15);
    h[3] = h[2] - 60 * rise(25);
    h[4] = h[3];
    h[5] = h[4] - 40 * rise(40);
    const { classes, unknownM } = slopeClasses(
      profile([0, h[0]!], [200, h[1]!], [300, h[2]], [360, h[3]], [500, h[4]], [540, h[5]]),
    );
    expect(unknownM).toBe(0);
    expect(
      classes.map((c) => [c.fromDeg, c.toDeg, ...[c.lengthM, c.upM, c.downM].map((m) => Math.round(m))]),
    ).toEqual([
      [0, 5, 340, 200, 0],
      [5, 10, 0, 0, 0],
      [10, 20, 100, 100, 0],
      [20, 30, 60, 0, 60],
      [30, null, 40, 0, 40],
    ]);
  });
  it("put a slope on a bound into the steeper class", () => {
    const { classes } = slopeClasses(profile([0, 0], [100, 100]), [30, 45]);
    expect(classes.map((c) => Math.round(c.lengthM))).toEqual([0, 0, 100]);
  });
  it("add up to the leg with what is not known", () => {
    const { classes, unknownM } = slopeClasses(
      profile([0, 0], [50, 3], [70, Number.NaN], [100, 9], [133, 60], [140, 61]),
    );
    expect(unknownM).toBeCloseTo(50, 9);
    expect(classes.reduce((sum, c) => sum + c.lengthM, 0)).toBeCloseTo(90, 9);
    expect(slopeClasses(profile([0, Number.NaN], [80, Number.NaN])).unknownM).toBe(80);
    expect(slopeClasses(profile([0, 5])).unknownM).toBe(0);
  });
  it("need bounds that rise between level and upright", () => {
    for (const bad of [[0, 5], [10, 5], [5, 90], [Number.NaN]])
      expect(() => slopeClasses(profile([0, 0], [9, 9]), bad)).toThrow(Fault);
  });
});
