import { describe, expect, test } from "vitest";
import { calibrations, countedBy, paceWith, readTrial } from "../../../renderer/settings/pace-trials.ts";

const PACE = { per100m: 65, upPer100m: null, downPer100m: 70, steps: 2 } as const;
const entry = { ground: "flat", distance: "100 m", paces: "66", took: "1:25" } as const;

test("a trial as typed", () => {
  expect(readTrial(entry)).toEqual({ ground: "flat", distanceM: 100, paces: 66, seconds: 85 });
  // A hundred yards: 91.44 m by the agreement of 1959.
  expect(readTrial({ ...entry, distance: "100 yd", took: "" })).toEqual({
    ground: "flat",
    distanceM: 91.44,
    paces: 66,
    seconds: null,
  });
});

test.each([
  [{ distance: "0" }, "The distance must be more than 0"],
  [{ distance: "far" }, "is not a length"],
  [{ paces: "0" }, "a count lies between 20 and 500"],
  [{ paces: "many" }, "is not a number"],
  [{ took: "0" }, "The time must be more than 0"],
])("%j cannot be", (wrong, reason) => expect(() => readTrial({ ...entry, ...wrong })).toThrow(reason));

describe("mean and spread", () => {
  // By hand: (66 + 68 + 64) / 3 = 66; deviations 0, 2, −2; √((0 + 4 + 4) / 2) = 2; 2 / 66 = 3.03 %.
  const trials = [66, 68, 64].map((paces) => ({
    ground: "flat" as const,
    distanceM: 100,
    paces,
    seconds: null,
  }));
  test("of the trials of one ground", () => {
    const [flat, ...others] = calibrations(trials);
    expect(others).toEqual([]);
    expect(flat?.found.per100m).toBeCloseTo(66, 9);
    expect(flat?.found.spreadPer100m).toBeCloseTo(2, 9);
    expect(flat?.found.error).toBeCloseTo(0.030303, 6);
  });
  test("each ground goes where it belongs", () => {
    const found = calibrations([{ ...trials[0]!, ground: "up", paces: 80.04 }, ...trials]);
    expect(found.map(({ ground }) => ground)).toEqual(["flat", "up"]);
    expect(paceWith(PACE, found[0]!)).toEqual({ ...PACE, per100m: 66 });
    expect(paceWith(PACE, found[1]!)).toEqual({ ...PACE, upPer100m: 80 });
  });
});

test("every step counts twice as often as every second", () => {
  const single = countedBy(PACE, 1);
  expect(single).toEqual({ per100m: 130, upPer100m: null, downPer100m: 140, steps: 1 });
  expect(countedBy(single, 2)).toEqual(PACE);
  expect(countedBy(PACE, 2)).toEqual(PACE);
});
