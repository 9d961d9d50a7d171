import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { climbOf, climbSoFar } from "../../../core/terrain/climb.ts";

const of = (threshold: number, ...heights: number[]) =>
  climbOf({ elevationM: Float64Array.from(heights) }, threshold);

/** Worked by hand. */
describe("climb with a threshold of 2 m", () => {
  for (const [what, heights, climbM, descentM] of [
    ["a plain rise counts whole", [100, 101, 102, 105], 5, 0],
    ["a plain fall counts whole", [105, 103, 102, 100], 0, 5],
    ["up and down", [100, 110, 104], 10, 6],
    ["a dip smaller than the threshold does not break a rise", [100, 105, 103.5, 110], 10, 0],
    ["a dip of the threshold does", [100, 105, 103, 110], 12, 2],
    ["a hump smaller than the threshold does not break a fall", [110, 105, 106.9, 100], 0, 10],
    ["waves below the threshold are none", [100, 101, 100, 101.5, 100, 101.9, 100.1], 0, 0],
    ["a slow rise of many small steps adds up", [0, 0.5, 1, 1.5, 2, 2.5, 3], 3, 0],
    ["a small fall before the first rise is passed over, the rise counts from the low", [100, 99, 105], 6, 0],
    [
      "a small rise before the first fall is passed over, the fall counts from the high",
      [100, 101, 95],
      0,
      6,
    ],
    ["a reversal below the threshold at the end is passed over", [100, 110, 109], 10, 0],
    ["a level stretch", [100, 100, 100], 0, 0],
    ["a single height", [100], 0, 0],
  ] as const)
    it(what, () => {
      const got = of(2, ...heights);
      expect(got!.climbM).toBeCloseTo(climbM, 9);
      expect(got!.descentM).toBeCloseTo(descentM, 9);
    });
});

describe("climb", () => {
  it("without a threshold is the sum of every rise and fall", () => {
    let seed = 11;
    const heights = Array.from({ length: 500 }, () => (seed = (seed * 48271) % 2147483647) % 1000);
    let [up, down] = [0, 0];
    for (let i = 1; i < heights.length; i++) {
      up += Math.max(0, heights[i]! - heights[i - 1]!);
      down += Math.max(0, heights[i - 1]! - heights[i]!);
    }
    expect(of(0, ...heights)).toEqual({ climbM: up, descentM: down });
  });
  it("never grows with the threshold, and differs from descent by end less start to within two thresholds", () => {
    let seed = 5;
    for (let k = 0; k < 50; k++) {
      const heights = Array.from({ length: 80 }, () => ((seed = (seed * 48271) % 2147483647) % 1000) / 10);
      let last = Infinity;
      for (const t of [0, 1, 5, 20, 60]) {
        const { climbM, descentM } = of(t, ...heights)!;
        expect(climbM).toBeLessThanOrEqual(last + 1e-9);
        last = climbM;
        expect(Math.abs(climbM - descentM - (heights.at(-1)! - heights[0]!))).toBeLessThanOrEqual(
          2 * t + 1e-9,
        );
      }
    }
  });
  it("is not known where a height is not", () => {
    expect(of(2, 100, Number.NaN, 105)).toBeNull();
    expect(of(2)).toBeNull();
  });
  it("needs a threshold that is one", () => {
    expect(() => of(-1, 100)).toThrow(Fault);
    expect(() => of(Number.NaN, 100)).toThrow(Fault);
  });
});

describe("climb so far", () => {
  it("adds up along the way and stands still in a dip that does not count", () => {
    // Threshold 2 m, worked by hand: up 5, a dip of 1.5 passed over, up to 10, down 6.
    const { climbM, descentM } = climbSoFar(
      { elevationM: Float64Array.of(100, 105, 103.5, 104, 110, 109, 104) },
      2,
    )!;
    expect([...climbM]).toEqual([0, 5, 5, 5, 10, 10, 10]);
    expect([...descentM]).toEqual([0, 0, 0, 0, 0, 1, 6]);
  });
  it("counts from the low when a small fall comes first, and nothing after the last turn that counts", () => {
    const { climbM, descentM } = climbSoFar({ elevationM: Float64Array.of(100, 99, 105, 104) }, 2)!;
    expect([...climbM]).toEqual([0, 0, 6, 6]);
    expect([...descentM]).toEqual([0, 0, 0, 0]);
  });
  it("never falls, and ends at the leg's climb and descent, whatever the threshold", () => {
    let seed = 7;
    for (let k = 0; k < 40; k++) {
      const heights = Float64Array.from(
        { length: 120 },
        () => ((seed = (seed * 48271) % 2147483647) % 1000) / 10,
      );
      for (const threshold of [0, 1, 8, 40, 200]) {
        const sums = climbOf({ elevationM: heights }, threshold)!;
        const { climbM, descentM } = climbSoFar({ elevationM: heights }, threshold)!;
        expect(climbM.at(-1)).toBeCloseTo(sums.climbM, 9);
        expect(descentM.at(-1)).toBeCloseTo(sums.descentM, 9);
        for (const sofar of [climbM, descentM])
          expect(sofar.every((v, i) => v >= (sofar[i - 1] ?? 0) - 1e-9)).toBe(true);
      }
    }
  });
  it("is not known where a height is not", () => {
    expect(climbSoFar({ elevationM: Float64Array.of(1, Number.NaN) }, 1)).toBeNull();
    expect(climbSoFar({ elevationM: Float64Array.of() }, 1)).toBeNull();
    expect(climbSoFar({ elevationM: Float64Array.of(7) }, 1)!.climbM).toEqual(Float64Array.of(0));
  });
});
