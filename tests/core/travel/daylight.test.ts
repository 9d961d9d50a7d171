import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { daylightMargin, daylightOn, turnBackBy } from "../../../core/travel/daylight.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";

// Source: US Naval Observatory and others (see the fixture's README); printed to the minute.
const rows = readRows("../travel/sun.tsv");

test("the table is whole", () => expect(rows).toHaveLength(27));

describe("sun against published tables", () => {
  test.each(rows.map((row) => ({ row, name: `${row["place"]}, ${row["date"]}` })))("$name", ({ row }) => {
    const day = daylightOn([num(row, "lon_deg"), num(row, "lat_deg")], row["date"] as string);
    const midnight = Date.parse(`${row["date"]}T00:00:00Z`) - num(row, "utc_offset_h") * 3_600_000;
    const columns = {
      civil_dawn: day.civilDawn,
      sunrise: day.sunrise,
      sunset: day.sunset,
      civil_dusk: day.civilDusk,
    };
    for (const [column, instant] of Object.entries(columns)) {
      const text = row[column];
      if (text === "") continue;
      if (text === "none") {
        expect(instant, column).toBeNull();
        expect(day.allDay).toBe("up");
        continue;
      }
      const [h, m] = (text as string).split(":").map(Number) as [number, number];
      expect(instant, column).not.toBeNull();
      expect(Math.abs(((instant as number) - midnight) / 60_000 - (h * 60 + m)), column).toBeLessThanOrEqual(
        1,
      );
    }
  });
});

// By definition of the polar night: 20° above the polar circle in December the sun stays down.
test("the sun stays down", () => {
  const day = daylightOn([15, 85], "2026-12-21");
  expect(day).toEqual({ civilDawn: null, sunrise: null, sunset: null, civilDusk: null, allDay: "down" });
  expect(daylightMargin(day, 0, 1).dark).toBe(true);
});

test("the day is the place's own, on both sides of the antimeridian", () => {
  for (const lon of [-179.5, 179.5, 0]) {
    const { sunrise, sunset } = daylightOn([lon, 10], "2026-03-20") as { sunrise: number; sunset: number };
    const localNoon = Date.parse("2026-03-20T12:00:00Z") - (lon / 15) * 3_600_000;
    expect(Math.abs((sunrise + sunset) / 2 - localNoon)).toBeLessThan(20 * 60_000);
  }
});

test("how a walk lies in the light", () => {
  const hour = 3_600_000;
  const day = {
    civilDawn: 6 * hour,
    sunrise: 6.5 * hour,
    sunset: 18 * hour,
    civilDusk: 18.5 * hour,
    allDay: null,
  };
  expect(daylightMargin(day, 8 * hour, 17 * hour)).toEqual({
    beforeSunsetS: 3600,
    beforeDuskS: 5400,
    dark: false,
  });
  expect(daylightMargin(day, 8 * hour, 19 * hour)).toEqual({
    beforeSunsetS: -3600,
    beforeDuskS: -1800,
    dark: true,
  });
  expect(daylightMargin(day, 5 * hour, 9 * hour).dark).toBe(true);
  expect(
    daylightMargin({ civilDawn: null, sunrise: null, sunset: null, civilDusk: null, allDay: "up" }, 0, hour)
      .dark,
  ).toBe(false);
  // Midsummer at 60° north: sunset, but no end of twilight.
  expect(daylightMargin({ ...day, civilDawn: null, civilDusk: null }, 0, 23 * hour).dark).toBe(false);
  expect(() => daylightMargin(day, 2, 1)).toThrow(Fault);
  expect(() => daylightMargin(day, Number.NaN, 1)).toThrow(Fault);
});

// Worked by hand: ten hours out and back; equal ways turn after five, a way back of two thirds after six.
test("when to turn round", () => {
  expect(turnBackBy(0, 10)).toBe(5);
  expect(turnBackBy(0, 10, 2 / 3)).toBeCloseTo(6, 9);
  expect(() => turnBackBy(5, 5)).toThrow(Fault);
  expect(() => turnBackBy(0, 10, 0)).toThrow(Fault);
});

test.each([["2026-02-30"], ["1.5.2026"], [""]])("“%s” is no day", (date) =>
  expect(() => daylightOn([8, 47], date)).toThrow(Fault),
);
test("latitude 91 is no place", () => expect(() => daylightOn([8, 91], "2026-05-01")).toThrow(Fault));
