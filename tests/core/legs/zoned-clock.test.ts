import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { clockOf, instantOf, localIso, zoneOf } from "../../../core/legs/times/zoned-clock.ts";

// Source: Python 3.11's zoneinfo, datetime(…, tzinfo=ZoneInfo(zone)).astimezone(utc) and back; a clock time with
// fold=1 of another offset comes twice or not at all (PEP 495).
const ROWS = [
  ["2026-06-15", "09:42", "Europe/London", "2026-06-15T08:42:00Z", "2026-06-15T09:42:00+01:00", 1],
  ["2026-01-15", "09:42", "Europe/London", "2026-01-15T09:42:00Z", "2026-01-15T09:42:00+00:00", 1],
  ["2026-03-29", "01:30", "Europe/London", "2026-03-29T01:30:00Z", "2026-03-29T02:30:00+01:00", 0],
  ["2026-10-25", "01:30", "Europe/London", "2026-10-25T00:30:00Z", "2026-10-25T01:30:00+01:00", 2],
  ["2026-03-08", "02:30", "America/New_York", "2026-03-08T07:30:00Z", "2026-03-08T03:30:00-04:00", 0],
  ["2026-11-01", "01:30", "America/New_York", "2026-11-01T05:30:00Z", "2026-11-01T01:30:00-04:00", 2],
  ["2026-07-01", "00:15", "Asia/Kathmandu", "2026-06-30T18:30:00Z", "2026-07-01T00:15:00+05:45", 1],
  ["2026-04-05", "01:45", "Australia/Lord_Howe", "2026-04-04T14:45:00Z", "2026-04-05T01:45:00+11:00", 2],
  ["2026-04-05", "02:30", "Australia/Lord_Howe", "2026-04-04T16:00:00Z", "2026-04-05T02:30:00+10:30", 1],
  ["2026-10-04", "02:15", "Australia/Lord_Howe", "2026-10-03T15:45:00Z", "2026-10-04T02:45:00+11:00", 0],
  ["2026-02-28", "23:59", "Pacific/Chatham", "2026-02-28T10:14:00Z", "2026-02-28T23:59:00+13:45", 1],
  ["2026-12-31", "23:30", "Pacific/Kiritimati", "2026-12-31T09:30:00Z", "2026-12-31T23:30:00+14:00", 1],
  ["2026-08-01", "12:00", "UTC", "2026-08-01T12:00:00Z", "2026-08-01T12:00:00+00:00", 1],
] as const;

test.each(ROWS)("%s %s in %s", (date, clock, zone, utc, local, times) => {
  const instant = instantOf(date, clock, zoneOf(zone));
  expect(new Date(instant.ms).toISOString()).toBe(utc.replace("Z", ".000Z"));
  expect(instant.times).toBe(times);
  expect(localIso(instant.ms, zoneOf(zone))).toBe(local);
});

test("every hour of a year comes back to its instant, in zones of every kind", () => {
  for (const zone of ["Europe/London", "America/St_Johns", "Australia/Lord_Howe", "Asia/Tehran", null]) {
    const clock = zoneOf(zone);
    for (let ms = Date.UTC(2026, 0, 1); ms < Date.UTC(2027, 0, 1); ms += 3_600_000) {
      const iso = localIso(ms, clock);
      expect(Date.parse(iso), `${zone} ${iso}`).toBe(ms);
    }
  }
});

test("the computer's own zone is named", () => {
  expect(zoneOf(null).name).toBe(new Intl.DateTimeFormat("en").resolvedOptions().timeZone);
  expect(zoneOf("Europe/Oslo").name).toBe("Europe/Oslo");
  const noon = new Date(2026, 5, 15, 12, 0);
  expect(instantOf("2026-06-15", "12:00", zoneOf(null)).ms).toBe(noon.getTime());
});

describe("read by a person", () => {
  test.each([
    ["2026-06-15T09:42:29+01:00", "09:42"],
    ["2026-06-15T09:42:30+01:00", "09:43"],
    ["2026-06-15T23:59:45+01:00", "00:00\u00a0+1"],
    ["2026-06-16T01:10:00+01:00", "01:10\u00a0+1"],
    ["2026-06-14T23:10:00+01:00", "23:10\u00a0−1"],
    ["2026-07-01T00:00:00+01:00", "00:00\u00a0+16"],
  ])("%s is %s", (iso, clock) => expect(clockOf(iso, "2026-06-15")).toBe(clock));
  test("an absent time is absent", () => expect(clockOf(null, "2026-06-15")).toBeNull());
});

test.each([
  ["2026-06-15", "24:00", "UTC"],
  ["2026-06-15", "9:42", "UTC"],
  ["2026-06-15", "12:60", "UTC"],
  ["2026-06-31", "12:00", "UTC"],
  ["2026-06-15", "12:00", "Mars/Olympus"],
])("%s %s in %s is refused", (date, clock, zone) =>
  expect(() => instantOf(date, clock, zoneOf(zone))).toThrow(Fault),
);
