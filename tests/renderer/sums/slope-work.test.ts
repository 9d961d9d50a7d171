import { describe, expect, test } from "vitest";
import {
  type Slope,
  slopeFromDegrees,
  slopeFromPercent,
  slopeFromRise,
  slopeFromRun,
} from "../../../renderer/sums/slope-work.ts";
import type { Worked } from "../../../renderer/sums/worked.ts";

function answer(of: Worked<Slope>): readonly [string, string, string] {
  if (of.kind !== "answer") throw new Error(`no answer: ${JSON.stringify(of)}`);
  const { degrees, percent, ratio } = of.value;
  return [degrees, percent, ratio.replaceAll("\u00a0", " ")];
}

// Source: US Army EN5622, figure 1-2: 100 m up over 1000 m is 10 %. Degrees by the exact arctangent, 5.71°.
test("ten percent, from whichever blank", () => {
  const expected = ["5.7", "10.0", "1 in 10"];
  expect(answer(slopeFromRise("100 m", "1000 m"))).toEqual(expected);
  expect(answer(slopeFromPercent("10 %"))).toEqual(expected);
  expect(answer(slopeFromRun("1 in 10"))).toEqual(expected);
  expect(answer(slopeFromRun("10"))).toEqual(expected);
  expect(answer(slopeFromDegrees("5.7106"))).toEqual(expected);
});

// By hand: 40 m in 100 m is 40 %, arctan 0.4 = 21.80°; 45° is 100 %; 120 ft in 300 ft is the same 40 %.
test("rise and run in their own units, falling too", () => {
  expect(answer(slopeFromRise("40 m", "100 m"))).toEqual(["21.8", "40.0", "1 in 2.5"]);
  expect(answer(slopeFromRise("120 ft", "100 yd"))).toEqual(["21.8", "40.0", "1 in 2.5"]);
  expect(answer(slopeFromRise("−40", "100"))).toEqual(["−21.8", "−40.0", "1 in 2.5"]);
  expect(answer(slopeFromDegrees("45°"))).toEqual(["45.0", "100.0", "1 in 1.0"]);
});

// By hand: 100 / cos 15° = 103.53.
test("longer on the slope", () => {
  const of = slopeFromDegrees("15");
  expect(of.kind === "answer" && of.value.onSlope).toBe("103.5");
});

describe("what cannot be", () => {
  test.each([
    [slopeFromDegrees("90"), /90° does not exist/],
    [slopeFromDegrees("steep"), /no figure for a slope/],
    [slopeFromRise("40 m", "0 m"), /no slope/],
    [slopeFromRise("40 stones", "100 m"), /no unit of length/],
    [slopeFromRun("0"), /no slope/],
  ] as const)("%#", (of, reason) => expect(of.kind === "fault" && of.fault.what).toMatch(reason));
});
