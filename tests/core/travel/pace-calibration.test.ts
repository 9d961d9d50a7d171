import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { calibratePace } from "../../../core/travel/pace-calibration.ts";
import { paceCounter } from "../../../core/travel/paces-on-slope.ts";

describe("a count from trials", () => {
  // Worked by hand: 63, 66 and 66 paces over 100 m: mean 65, deviations −2, 1, 1, spread √(6/2) = 1.7321.
  test("mean and spread", () => {
    const result = calibratePace([
      { distanceM: 100, paces: 63 },
      { distanceM: 100, paces: 66 },
      { distanceM: 100, paces: 66 },
    ]);
    expect(result.per100m).toBeCloseTo(65, 9);
    expect(result.spreadPer100m).toBeCloseTo(1.7321, 4);
    expect(result.error).toBeCloseTo(1.7321 / 65, 5);
    expect(result.cautions).toEqual([]);
  });
  // Source: Soldier's Manual of Common Tasks, task 071-329-1006: 600 m across country at 148 steps to 100 m: 888 steps.
  test("a long course weighs more", () => {
    const result = calibratePace(
      [
        { distanceM: 600, paces: 444, seconds: 720 },
        { distanceM: 100, paces: 70, seconds: 120 },
      ],
      "rough",
    );
    expect(result.per100m).toBeCloseTo((514 / 700) * 100, 9);
    expect(result.speed).toBeCloseTo(700 / 840, 9);
    expect(result.cautions).toHaveLength(1);
  });
  test("one trial has no spread, and a short one says little", () => {
    const result = calibratePace([{ distanceM: 50, paces: 33 }], "up");
    expect(result.per100m).toBe(66);
    expect(result.spreadPer100m).toBeNull();
    expect(result.error).toBeNull();
    expect(result.speed).toBeNull();
    expect(result.cautions).toHaveLength(3);
  });
  test.each([
    [[]],
    [[{ distanceM: 0, paces: 65 }]],
    [[{ distanceM: 100, paces: 0 }]],
    [[{ distanceM: 100, paces: Number.NaN }]],
    [[{ distanceM: 100, paces: 65, seconds: 0 }]],
  ])("%j is refused", (trials) => expect(() => calibratePace(trials)).toThrow(Fault));
});

describe("paces along a profile", () => {
  // 1 km level, 1 km at 10 % up, 1 km at 10 % down.
  const profile = {
    distanceM: Float64Array.of(0, 1000, 2000, 3000),
    elevationM: Float64Array.of(100, 100, 200, 100),
  };
  const counts = { flat: 58, up: 74, down: 62 };

  // By hand: 580 on the level, 740 up, 620 down; 5° is 8.7 %, so 10 % counts as slope.
  test.each([
    [0, 0],
    [500, 290],
    [1000, 580],
    [1500, 950],
    [2000, 1320],
    [3000, 1940],
  ])("at %d m: %d", (at, paces) => expect(paceCounter(profile, counts)?.(at)).toBeCloseTo(paces, 6));
  test("a slope below where it begins counts as level", () =>
    expect(paceCounter(profile, counts, 6)?.(3000)).toBeCloseTo(1740, 6));
  test("missing heights, no length, off the leg, a count of nought", () => {
    expect(paceCounter({ ...profile, elevationM: Float64Array.of(1, Number.NaN, 1, 1) }, counts)).toBeNull();
    expect(paceCounter({ distanceM: Float64Array.of(0), elevationM: Float64Array.of(1) }, counts)?.(0)).toBe(
      0,
    );
    expect(() => paceCounter(profile, counts)?.(3001)).toThrow(Fault);
    expect(() => paceCounter(profile, { ...counts, up: 0 })).toThrow(Fault);
  });
});
