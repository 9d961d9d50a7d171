import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { slopeDistanceOf, steepestOf, steepestStretchOf } from "../../../core/terrain/slope.ts";

const profile = (...points: (readonly [d: number, h: number])[]) => ({
  distanceM: Float64Array.from(points, ([d]) => d),
  elevationM: Float64Array.from(points, ([, h]) => h),
});

describe("distance over the slope", () => {
  it("is the sum of the slopes' lengths", () => {
    expect(slopeDistanceOf(profile([0, 100], [30, 140], [60, 100]))).toBeCloseTo(100, 9); // twice 3-4-5
    expect(slopeDistanceOf(profile([0, 100], [50, 100]))).toBe(50);
    expect(slopeDistanceOf(profile([0, 100]))).toBe(0);
  });
  it("is not known where a height is not", () => {
    expect(slopeDistanceOf(profile([0, 100], [30, Number.NaN], [60, 100]))).toBeNull();
    expect(slopeDistanceOf(profile([0, Number.NaN]))).toBeNull();
  });
});

describe("the steepest stretch", () => {
  it("of an even slope is that slope", () => {
    expect(steepestOf(profile([0, 0], [100, 100]))).toBeCloseTo(45, 9);
    expect(steepestOf(profile([0, 100], [100, 0]))).toBeCloseTo(45, 9);
  });
  it("is found between the samples", () => {
    // 10 m up within 10 m, level before and after: over 20 m that is 10 in 20 wherever the window holds the step.
    const found = steepestStretchOf(profile([0, 0], [33, 0], [43, 10], [100, 10]), 20)!;
    expect(found.deg).toBeCloseTo((Math.atan(0.5) * 180) / Math.PI, 9);
    expect(found.fromM).toBeLessThanOrEqual(33);
    expect(found.toM).toBeGreaterThanOrEqual(43);
    expect(found.up).toBe(true);
  });
  it("of a short leg is the leg", () => expect(steepestOf(profile([0, 0], [10, 10]), 20)).toBeCloseTo(45, 9));
  it("tells down from up", () =>
    expect(steepestStretchOf(profile([0, 50], [40, 50], [80, 20]))!.up).toBe(false));
  it("is what trying every decimetre finds, never less", () => {
    let seed = 3;
    const random = (): number => ((seed = (seed * 48271) % 2147483647) % 10000) / 10000;
    for (let k = 0; k < 30; k++) {
      let d = 0;
      const points = Array.from({ length: 40 }, () => [(d += 1 + 15 * random()), 40 * random()] as const);
      const p = profile([0, 10], ...points);
      const heightAt = (x: number): number => {
        const i = Math.max(
          1,
          p.distanceM.findIndex((v) => v >= x),
        );
        const [a, b] = [p.distanceM[i - 1]!, p.distanceM[i]!];
        return p.elevationM[i - 1]! + ((p.elevationM[i]! - p.elevationM[i - 1]!) * (x - a)) / (b - a);
      };
      let tried = 0;
      for (let x = 0; x + 20 <= d; x += 0.1)
        tried = Math.max(tried, Math.abs(heightAt(x + 20) - heightAt(x)));
      const found = Math.tan((steepestOf(p)! * Math.PI) / 180) * 20;
      expect(found).toBeGreaterThanOrEqual(tried - 1e-9);
      // A decimetre off the best window loses at most a decimetre of the steepest slope there is.
      expect(found - tried).toBeLessThan(8);
    }
  });
  it("is not known where a height is not, or the leg has no length", () => {
    expect(steepestOf(profile([0, 0], [50, Number.NaN], [100, 0]))).toBeNull();
    expect(steepestOf(profile([0, 0]))).toBeNull();
  });
  it("needs a length", () => expect(() => steepestOf(profile([0, 0], [9, 9]), 0)).toThrow(Fault));
});
