import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseEastWest, printedDeclinationOn } from "../../../core/geodesy/printed-declination.ts";
import {
  eastWestText,
  entryOf,
  type PrintedEntry,
  readPrinted,
} from "../../../renderer/settings/printed-entry.ts";

const EMPTY: PrintedEntry = { of: "declination", value: "", year: "", change: "" };

// Worked by hand: value on the day = printed value + annual change × (day − printed year), east positive.
describe("typed as the margin has it and brought to the day", () => {
  test.each([
    // −12.5 + 20 × 8/60
    [{ value: "12°30' W", year: "2005", change: "8' E" }, "2025-01-01", -9.833333],
    // 845′ − 28 × 6′ = 677′
    [{ value: "14°05' E", year: "1998", change: "6' W" }, "2026-01-01", 11.283333],
    [{ value: "3.5W", year: "2020", change: "" }, "2026-01-01", -3.5],
  ])("%j", (typed, day, deg) => {
    const { printed, faults } = readPrinted({ ...EMPTY, ...typed });
    expect(faults).toEqual({});
    expect(printed && printedDeclinationOn(printed, day, 0).deg).toBeCloseTo(deg, 5);
  });
});

test("half an entry is no mistake, and counts for nothing yet", () => {
  expect(readPrinted({ ...EMPTY, value: "12 E" })).toEqual({ printed: null, empty: false, faults: {} });
  expect(readPrinted({ ...EMPTY, year: "2012" })).toEqual({ printed: null, empty: false, faults: {} });
  expect(readPrinted(EMPTY)).toEqual({ printed: null, empty: true, faults: {} });
});

describe("each blank has its own reason, and none lets the whole through", () => {
  const good = { ...EMPTY, value: "12°30' E", year: "2012", change: "6' W" };
  test.each([
    ["value", "twelve", "is not an angle to east or west"],
    ["value", "200 E", "lies within 180° east or west"],
    ["value", "12°75' E", "minutes that cannot be"],
    ["year", "12", "has four figures"],
    ["year", "1492", "is not the year of a printed declination"],
    ["change", "6'", "does not say east or west"],
    ["change", "5° E", "cannot be: it is a few minutes"],
  ] as const)("%s: %s", (blank, text, reason) => {
    const { printed, faults } = readPrinted({ ...good, [blank]: text });
    expect(printed).toBeNull();
    expect(Object.keys(faults)).toEqual([blank]);
    expect(faults[blank]?.what).toContain(reason);
  });
});

test("what is kept comes back into the blanks as a margin prints it", () => {
  expect(eastWestText(12.5)).toBe("12° 30′ E");
  expect(eastWestText(-0.1)).toBe("6′ W");
  expect(eastWestText(14)).toBe("14° E");
  expect(eastWestText(0)).toBe("0°");
  expect(eastWestText(-12.34)).toBe("12.34° W");
  fc.assert(
    fc.property(fc.integer({ min: -180 * 60, max: 180 * 60 }), (minutes) => {
      expect(parseEastWest(eastWestText(minutes / 60))).toBeCloseTo(minutes / 60, 9);
    }),
  );
  const printed = { of: "gridMagnetic", valueDeg: 15.5, year: 2008, annualChangeDeg: -0.1 } as const;
  expect(readPrinted(entryOf(printed)).printed).toEqual(printed);
});
