/**
 * With nothing on the ground the odds have closed forms. Spreads are a few metres in 1000, so that a way off course is as
 * good as no longer than the course: hops of 100 m that leave one 4 m aside cost 8 cm of the way.
 */
import { describe, expect, test } from "vitest";
import { simulate } from "../../../../core/legs/odds/simulate.ts";
import { sideSpreadM, UNAIDED, USUAL_SPREAD } from "../../../../core/legs/odds/spread.ts";
import { withinRadius } from "./support/normal.ts";

/** Half a percentage point. */
const HELD_TO = 0.005;
const LENGTH_M = 1000;
const HOP_M = 100;
const SEEDS = [1, 2, 3, 4];
const radians = (share: number): number => (share * 180) / Math.PI;

/** A spread of so many metres to the side at the end, from the setting alone, the hops alone or both, and along. */
const spreadOf = (acrossM: number, alongM: number, sightM: number, by: "setting" | "hops" | "both") => {
  const part = by === "both" ? Math.SQRT1_2 : 1;
  return {
    ...USUAL_SPREAD,
    steering: {
      settingDeg: by === "hops" ? 0 : radians((part * acrossM) / LENGTH_M),
      // n hops of length h give h σ √n to the side.
      hopDeg: by === "setting" ? 0 : radians((part * acrossM) / (HOP_M * Math.sqrt(LENGTH_M / HOP_M))),
      hopM: HOP_M,
    },
    paceError: alongM / LENGTH_M,
    sightM,
  };
};

describe("equal spreads along and across", () => {
  // Share within r of a circular normal spread, 1 − exp(−r²/2σ²) (Rayleigh); the rows are worked by hand.
  test.for([
    [0.5, 0.117503],
    [1, 0.393469],
    [1.17741, 0.5],
    [1.5, 0.675348],
    [2, 0.864665],
    [2.44775, 0.95],
    [3, 0.988891],
  ] as const)("a radius of %s standard deviations is found by %s", ([radius, share]) => {
    for (const by of ["setting", "hops", "both"] as const)
      for (const seed of SEEDS) {
        const { find, stopped, missed } = simulate(
          { lengthM: LENGTH_M },
          {},
          spreadOf(2, 2, 2 * radius, by),
          { seed },
        );
        expect(Math.abs(find - share), `${by}, seed ${seed}`).toBeLessThan(HELD_TO);
        expect(stopped).toBe(0);
        expect(find + missed).toBeCloseTo(1, 12);
      }
  });
});

describe("unequal spreads", () => {
  // The two-dimensional normal integral by Simpson's rule.
  test.for([
    [1, 3, 2],
    [3, 1, 2],
    [0.6, 4, 2.4],
    [4, 0.6, 6],
    [2.4, 1.8, 5],
  ] as const)("%s m across and %s m along, seen from %s m", ([across, along, sight]) => {
    const share = withinRadius(sight, along, across);
    for (const by of ["setting", "hops", "both"] as const)
      for (const seed of SEEDS) {
        const { find } = simulate({ lengthM: LENGTH_M }, {}, spreadOf(across, along, sight, by), { seed });
        expect(Math.abs(find - share), `${by}, seed ${seed}`).toBeLessThan(HELD_TO);
      }
  });

  test("the integral itself agrees with the closed form where there is one", () => {
    expect(withinRadius(10, 10, 10)).toBeCloseTo(0.393469, 5);
  });
});

/** Standard deviation of where walkers end to the side. */
function sideOf(lengthM: number, steering = USUAL_SPREAD.steering): number {
  const { ends } = simulate({ lengthM }, {}, { ...USUAL_SPREAD, steering, paceError: 0 });
  let sum = 0;
  for (let i = 1; i < ends.length; i += 2) sum += (ends[i] as number) ** 2;
  return Math.sqrt(sum / (ends.length / 2));
}

describe("hops", () => {
  // n hops of 50 m at 3°: h σ √n to the side, by hand.
  test.for([
    [1, 2.618],
    [4, 5.236],
    [9, 7.854],
    [16, 10.472],
    [25, 13.09],
  ] as const)("%s of them leave %s m to the side", ([hops, side]) => {
    const found = sideOf(50 * hops, { settingDeg: 0, hopDeg: 3, hopM: 50 });
    expect(Math.abs(found / side - 1)).toBeLessThan(0.01);
  });

  test("many short ones walked as fewer longer ones end as far to the side", () => {
    const steering = { settingDeg: 0, hopDeg: 2, hopM: 10 };
    // 200 hops of 10 m: 10 σ √200.
    expect(sideOf(2000, steering) / (10 * ((2 * Math.PI) / 180) * Math.sqrt(200))).toBeCloseTo(1, 2);
    expect(sideSpreadM(steering, 2000)).toBeCloseTo(10 * ((2 * Math.PI) / 180) * Math.sqrt(200), 9);
  });
});

describe("without marks", () => {
  // Common practice, no source: 5 to 10 yards aside over 50 to 100 yards.
  test.for([50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100])(
    "the median walker over %s yards ends 5 to 10 aside",
    (yards) => {
      const YARD_M = 0.9144;
      for (const seed of SEEDS) {
        const { ends } = simulate(
          { lengthM: yards * YARD_M },
          {},
          { ...USUAL_SPREAD, steering: UNAIDED },
          { seed },
        );
        const aside = Array.from(
          { length: ends.length / 2 },
          (_, i) => Math.abs(ends[2 * i + 1] as number) / YARD_M,
        );
        aside.sort((a, b) => a - b);
        const median = aside[aside.length >> 1] as number;
        expect(median).toBeGreaterThan(5);
        expect(median).toBeLessThan(10);
      }
    },
  );
});
