import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import {
  parseEastWest,
  printedDeclinationOn,
  type PrintedNorth,
} from "../../../core/geodesy/printed-declination.ts";

const printed = (change: Partial<PrintedNorth>): PrintedNorth => ({
  valueDeg: -12.5,
  of: "declination",
  year: 2005,
  annualChangeDeg: 8 / 60,
  ...change,
});

// Worked by hand: printed value + annual change × years, east positive.
//   12° 30′ W of 2005, 8′ E a year, to 2025: −12.5 + 20 × 8/60 = −9.833333 (9° 50′ W)
//   14° 05′ E of 1998, 6′ W a year, to 2026: 845′ − 28 × 6′ = 677′ = 11.283333 (11° 17′ E)
//   0° 20′ W of mid-2012, 11′ E a year, to mid-2026: −20′ + 14 × 11′ = 134′ = 2.233333 (2° 14′ E); 2026-07-02 is 2026.4986
test.each([
  ["12° 30' W", 2005, "8' E", "2025-01-01", -9.833333, 5],
  ["14° 05' E", 1998, "6' W", "2026-01-01", 11.283333, 5],
  ["0° 20' W", 2012.5, "11' E", "2026-07-02", 2.233333, 3],
] as const)("%s of %d, %s a year, on %s is %d", (value, year, change, date, deg, digits) => {
  const result = printedDeclinationOn(
    printed({ valueDeg: parseEastWest(value), year, annualChangeDeg: parseEastWest(change) }),
    date,
  );
  expect(result.deg).toBeCloseTo(deg, digits);
});

// Source: TC 3-25.26, chapter 6: Fort Richardson 23° E in 1993 and 18° E in 2013; Fort Benning 2° W and 4° W.
test.each([
  [23, -5 / 20, 18],
  [-2, -2 / 20, -4],
])("the manual's %d° with %d° a year for 20 years is %d°", (valueDeg, annualChangeDeg, deg) => {
  const result = printedDeclinationOn(printed({ valueDeg, year: 1993, annualChangeDeg }), "2013-01-01");
  expect(result.deg).toBeCloseTo(deg, 9);
  expect(result.ageYears).toBeCloseTo(20, 9);
  expect(result.old).toBe(false);
  expect(printedDeclinationOn(printed({ year: 1993 }), "2013-01-02").old).toBe(true);
});

// Worked by hand: declination = grid–magnetic angle + convergence: 11.5 − 1.5 = 10; −4.75 + 0.75 = −4.
test.each([
  [11.5, -1.5, 10],
  [-4.75, 0.75, -4],
])("a grid–magnetic angle of %d° with convergence %d°: %d°", (valueDeg, convergence, deg) => {
  const north = printed({ valueDeg, of: "gridMagnetic", year: 2026, annualChangeDeg: 0 });
  expect(printedDeclinationOn(north, "2026-01-01", convergence).deg).toBeCloseTo(deg, 9);
  expect(() => printedDeclinationOn(north, "2026-01-01")).toThrow("needs the grid's convergence");
});

test("figures that cannot be", () => {
  expect(() => printedDeclinationOn(printed({ valueDeg: 181 }), "2026-01-01")).toThrow(Fault);
  expect(() => printedDeclinationOn(printed({ valueDeg: Number.NaN }), "2026-01-01")).toThrow(Fault);
  expect(() => printedDeclinationOn(printed({ year: 20 }), "2026-01-01")).toThrow("not the year");
  expect(() => printedDeclinationOn(printed({ annualChangeDeg: 8 }), "2026-01-01")).toThrow("a few minutes");
  expect(() => printedDeclinationOn(printed({}), "1.1.2026")).toThrow("not a day");
});

describe("angles to east and west as a map prints them", () => {
  test.each([
    ["12°30' W", -12.5],
    ["12° 30′ west", -12.5],
    ["12.5W", -12.5],
    ["-12.5", -12.5],
    ["−12,5", -12.5],
    ["+3", 3],
    ["3 E", 3],
    ["6' E", 0.1],
    ["11' E", 11 / 60],
    ["30 ' W", -0.5],
    ["6′ westward", -0.1],
    ["0", 0],
    ["0 W", 0],
    ["14 deg E", 14],
  ] as const)("%j", (text, degrees) => expect(parseEastWest(text)).toBeCloseTo(degrees, 12));
  test.each(["", "W", "-3 W", "12° 61' W", "12.5° 30' W", "6'", "12 30 W", "twelve", "NaN"])(
    "%j is refused",
    (text) => expect(() => parseEastWest(text)).toThrow(Fault),
  );
});
