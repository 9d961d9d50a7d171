import { describe, expect, it } from "vitest";
import { Fault } from "../../core/fault.ts";
import { emptyWalk, type Walk } from "../../core/walk/walk.ts";
import { compassOf, type WalkFlags, walkEdit } from "../../electron/cli/walk-flags.ts";

const WALK: Walk = {
  ...emptyWalk("2026-05-16"),
  pace: { per100m: 62, upPer100m: 70, downPer100m: 66, steps: 2 },
  startTime: "07:00",
};

describe("options that go before what the walk says", () => {
  it("change nothing that was not given", () => {
    expect(walkEdit({})(WALK)).toEqual(WALK);
  });

  it("change each what they name", () => {
    const flags: WalkFlags = {
      date: "2026-06-01",
      start: "08:30",
      backBy: "17:00",
      timeZone: "Europe/Oslo",
      pace: "65",
      time: "tobler",
      north: "grid",
      printed: "12°30' E",
      year: "2012",
      change: "6' W",
      beyondModel: true,
    };
    expect(walkEdit(flags)(WALK)).toEqual({
      ...WALK,
      date: "2026-06-01",
      startTime: "08:30",
      backBy: "17:00",
      timeZone: "Europe/Oslo",
      pace: { per100m: 65, upPer100m: null, downPer100m: null, steps: 2 },
      timeMethod: "tobler",
      north: "grid",
      declination: {
        use: "printed",
        printed: { valueDeg: 12.5, of: "declination", year: 2012, annualChangeDeg: -0.1 },
        beyondModel: true,
      },
    });
  });

  it.each<[WalkFlags, RegExp]>([
    [{ date: "1.6.2026" }, /not a day.*--date/],
    [{ start: "8:30" }, /not a time of day.*--start/],
    [{ start: "25:00" }, /not a time of day/],
    [{ backBy: "noon" }, /--back-by/],
    [{ timeZone: "Oslo" }, /not a time zone.*--time-zone/],
    [{ pace: "0" }, /0 paces per 100 m cannot be/],
    [{ pace: "-65" }, /cannot be/],
    [{ pace: "NaN" }, /“NaN” is no pace count/],
    [{ pace: "1e2" }, /no pace count/],
    [{ pace: "" }, /no pace count/],
    [{ printed: "12 E" }, /year .* is missing/],
  ])("%j is refused before a file is read", (flags, message) => {
    expect(() => walkEdit(flags)).toThrow(Fault);
    expect(() => walkEdit(flags)).toThrow(message);
  });
});

describe("the compass", () => {
  // A circle of 6400: 20 mils are 1.125°.
  it.each([
    [{}, "degrees", 1],
    [{ round: "5" }, "degrees", 5],
    [{ round: "2°" }, "degrees", 2],
    [{ unit: "quadrant", round: "1" }, "quadrant", 1],
    [{ unit: "mils" }, "mils", 0.5625],
    [{ unit: "mils", round: "20" }, "mils", 1.125],
    [{ unit: "mils", round: "100 mils", adjustable: true }, "mils", 5.625],
  ] as const)("of %j", (flags, unit, graduationDeg) => {
    expect(compassOf(flags)).toEqual({ unit, graduationDeg, adjustable: "adjustable" in flags });
  });

  it.each([
    [{ round: "0" }, /in degrees.*Use 1, 2 or 5/],
    [{ round: "3" }, /no spacing/],
    [{ round: "NaN" }, /“NaN” is no spacing/],
    [{ unit: "mils", round: "5" }, /in mils.*10, 20, 25, 50 or 100/],
  ] as const)("of %j is refused", (flags, message) => {
    expect(() => compassOf(flags)).toThrow(message);
  });
});
