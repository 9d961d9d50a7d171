import { describe, expect, test } from "vitest";
import type { WalkFigures } from "../../../core/legs/figures.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../core/legs/leg-settings.ts";
import { turningBackMs } from "../../../core/legs/times/turning-back.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";
import { ground, hills, place } from "./support/line-map.ts";

const ends = (...positions: LonLat[]) => positions.map((lonLat, i) => ({ label: `P${i}`, lonLat }));
const hours = (over: Partial<LegSettings>): LegSettings => ({
  ...DEFAULT_LEG_SETTINGS,
  date: "2026-06-15",
  // The drawn ground lies at 20° E, 34° S.
  timeZone: "Africa/Johannesburg",
  ...over,
});
/** Three kilometres on level ground in three legs: 12 minutes each by Naismith's metric form. */
const level = ground(
  [],
  hills(() => 100),
);
const straight = ends(place(0, 0), place(1000, 0), place(2000, 0), place(3000, 0));
const walk = (over: Partial<LegSettings>, points = straight, land = level): Promise<WalkFigures> =>
  walkFigures(points, land, hours(over));
const clocks = ({ legs }: WalkFigures): (string | undefined)[] =>
  legs.map(({ arrival }) => arrival?.slice(0, 16) + (arrival?.slice(19) ?? ""));

describe("arrivals", () => {
  test("follow from the start and the time walked so far", async () => {
    const figures = await walk({ startTime: "08:30" });
    expect(figures.start).toBe("2026-06-15T08:30:00+02:00");
    expect(clocks(figures)).toEqual([
      "2026-06-15T08:42+02:00",
      "2026-06-15T08:54+02:00",
      "2026-06-15T09:06+02:00",
    ]);
    expect(figures.timeZone).toBe("Africa/Johannesburg");
  });

  test("rests count as they fall due: 10 minutes an hour stretch 36 minutes to 42", async () => {
    const figures = await walk({
      startTime: "08:30",
      timeFactors: { party: 1, load: 1, surface: 1, breakMinPerHour: 10 },
    });
    expect(clocks(figures).at(-1)).toBe("2026-06-15T09:12+02:00");
  });

  test("run across midnight into the next day", async () => {
    const figures = await walk({ startTime: "23:40" });
    expect(clocks(figures)).toEqual([
      "2026-06-15T23:52+02:00",
      "2026-06-16T00:04+02:00",
      "2026-06-16T00:16+02:00",
    ]);
  });

  // Source: Python 3.11's zoneinfo: datetime(2026, 3, 29, 0, 50, tzinfo=ZoneInfo("Europe/London")) + 12 min each in UTC.
  test("clocks put forward on the way are an hour ahead afterwards", async () => {
    const figures = await walk({ date: "2026-03-29", startTime: "00:50", timeZone: "Europe/London" });
    expect(clocks(figures)).toEqual([
      "2026-03-29T02:02+01:00",
      "2026-03-29T02:14+01:00",
      "2026-03-29T02:26+01:00",
    ]);
  });

  test("clocks put back on the way show an hour again", async () => {
    const figures = await walk({ date: "2026-10-25", startTime: "01:40", timeZone: "Europe/London" });
    expect(clocks(figures)).toEqual([
      "2026-10-25T01:52+01:00",
      "2026-10-25T01:04+00:00",
      "2026-10-25T01:16+00:00",
    ]);
    expect(figures.notes.join(" ")).toContain("01:40 comes twice on that day");
    const skipped = await walk({ date: "2026-03-29", startTime: "01:30", timeZone: "Europe/London" });
    expect(skipped.notes.join(" ")).toContain("There is no 01:30 on that day");
  });

  test("are absent without a start, and from the first leg without a time on", async () => {
    expect((await walk({})).legs.map(({ arrival }) => arrival)).toEqual([null, null, null]);
    const hole = ground(
      [],
      hills((e) => (e > 1200 && e < 1300 ? NaN : 100)),
    );
    const figures = await walk({ startTime: "08:30" }, straight, hole);
    expect(figures.legs.map(({ arrival }) => arrival === null)).toEqual([false, true, true]);
    expect(figures.turnBackBy).toBeNull();
    expect(figures.daylight?.dark).toBeNull();
  });

  test("other hours do not work the legs out again", async () => {
    const first = await walk({ startTime: "08:30" });
    const later = await walk({ startTime: "09:30", backBy: "20:00" });
    expect(later.legs[0]?.profile).toBe(first.legs[0]?.profile);
  });
});

// Source: US Naval Observatory and others (see the fixture's README), printed to the minute: the walk's own figures, in a
// zone of the row's offset, agree within one.
describe("daylight at the walk", () => {
  const rows = readRows("../travel/sun.tsv");
  test("the table is whole", () => expect(rows).toHaveLength(27));
  test.each(rows.map((row) => ({ row, name: `${row["place"]}, ${row["date"]}` })))(
    "$name",
    async ({ row }) => {
      const offset = num(row, "utc_offset_h");
      const here: LonLat = [num(row, "lon_deg"), num(row, "lat_deg")];
      const { daylight } = await walkFigures(
        ends(here),
        null,
        hours({
          date: row["date"] as string,
          // The signs of these zones are those of POSIX: west positive.
          timeZone: offset === 0 ? "UTC" : `Etc/GMT${offset < 0 ? "+" : "-"}${Math.abs(offset)}`,
        }),
      );
      for (const [column, iso] of [
        ["civil_dawn", daylight?.civilDawn],
        ["sunrise", daylight?.sunrise],
        ["sunset", daylight?.sunset],
        ["civil_dusk", daylight?.civilDusk],
      ] as const) {
        const printed = row[column];
        if (printed === "") continue;
        if (printed === "none") {
          expect(iso, column).toBeNull();
          expect(daylight?.allDay).toBe("up");
          continue;
        }
        expect(iso?.slice(0, 10), column).toBe(row["date"]);
        const minutes = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));
        const seconds = Number(iso?.slice(17, 19));
        const found = minutes(iso?.slice(11, 16) as string) + seconds / 60;
        expect(Math.abs(found - minutes(printed as string)), column).toBeLessThanOrEqual(1);
      }
    },
  );
});

describe("how the walk lies in the light", () => {
  test("by day: how long before sunset it ends", async () => {
    const { daylight, notes, legs } = await walk({ startTime: "08:30" });
    expect(daylight?.dark).toBe(false);
    const left = Date.parse(daylight?.sunset as string) - Date.parse(legs.at(-1)?.arrival as string);
    expect(daylight?.beforeSunsetS).toBeCloseTo(left / 1000, -1);
    expect(notes).toEqual([]);
  });

  test("after sunset, after dusk and before dawn are said", async () => {
    // Sunset and dusk of 15 June at 34° S, 20.5° E lie at about 17:38 and 18:05.
    const late = await walk({ startTime: "17:10" });
    expect(late.daylight?.dark).toBe(false);
    expect(late.notes.join(" ")).toMatch(/The walk ends at 17:46, after sunset at 17:\d\d\./);
    const dark = await walk({ startTime: "17:50" });
    expect(dark.daylight?.dark).toBe(true);
    expect(dark.notes.join(" ")).toMatch(/The walk ends at 18:26, in the dark: it gets dark at 1[78]:\d\d\./);
    const early = await walk({ startTime: "05:00" });
    expect(early.daylight?.dark).toBe(true);
    expect(early.notes.join(" ")).toMatch(/The walk begins in the dark: it gets light at 07:\d\d\./);
  });

  // By definition of polar day and polar night.
  test("the sun that stays down or up is said where it matters", async () => {
    const polar = ends([15, 78], [15.02, 78]);
    const winter = await walkFigures(
      polar,
      null,
      hours({ date: "2026-12-21", startTime: "10:00", timeZone: "Arctic/Longyearbyen" }),
    );
    expect(winter.daylight).toMatchObject({ allDay: "down", sunset: null });
    expect(winter.notes.join(" ")).toContain("The sun does not rise here on that day.");
    const summer = await walkFigures(
      polar,
      null,
      hours({ date: "2026-06-21", startTime: "10:00", timeZone: "Arctic/Longyearbyen" }),
    );
    expect(summer.daylight).toMatchObject({ allDay: "up", sunrise: null, beforeSunsetS: null });
    expect(summer.notes.join(" ")).toContain(
      "The sun does not set here on that day: give a time to be back by.",
    );
    expect(summer.turnBackBy).toBeNull();
  });

  test("a clock from elsewhere is noticed", async () => {
    const here = await walk({ startTime: "08:30", timeZone: "Europe/Berlin" });
    expect(here.notes).toEqual([]);
    const there = await walk({ startTime: "08:30", timeZone: "America/Denver" });
    expect(there.notes.join(" ")).toContain("Clock times are those of America/Denver, 7 h off the sun");
    const across = await walkFigures(
      ends([-179.9, 10], [-179.91, 10]),
      null,
      hours({ startTime: "08:30", timeZone: "Etc/GMT-12" }),
    );
    expect(across.notes.join(" ")).not.toContain("off the sun");
  });
});

describe("turning back", () => {
  const hour = 3_600_000;
  // By hand. Out 1 h, 2 h, 1 h; back 30 min, 2 h, 3 h.
  const legs = [
    { timeS: 3600, timeBackS: 1800 },
    { timeS: 7200, timeBackS: 7200 },
    { timeS: 3600, timeBackS: 10_800 },
  ];
  test.each([
    // Within the first leg an hour out takes half an hour back: 45 minutes are 30 out and 15 back.
    [0.75, 0.5],
    [1.5, 1],
    // 3.5 hours: the first leg out and back takes 1.5, of the 2 left half is on the way out: 1 + 1.
    [3.5, 2],
    // 7.5 hours: 1.5 and 4 for two legs; of the 2 left a quarter is on the way out: 3 + 0.5.
    [7.5, 3.5],
    // Ten hours: all four out, and half an hour to spare at the end, since back takes 5.5.
    [10, 4.5],
  ])("back in %f h: turn after %f h", (until, turn) =>
    expect((turningBackMs(0, until * hour, legs) as number) / hour).toBeCloseTo(turn, 9),
  );
  test("no time at all is no answer", () => expect(turningBackMs(5, 5, legs)).toBeNull());

  test("by a clock time, on level ground half of it", async () => {
    const { turnBackBy } = await walk({ startTime: "08:30", backBy: "09:10" });
    expect(turnBackBy).toBe("2026-06-15T08:50:00+02:00");
  });

  test("a clock time before the start is the next day's", async () => {
    const { turnBackBy } = await walk({ startTime: "23:50", backBy: "00:10" });
    expect(turnBackBy).toBe("2026-06-16T00:00:00+02:00");
  });

  test("without one it is sunset, less the way back from the end", async () => {
    const { turnBackBy, daylight } = await walk({ startTime: "08:30" });
    expect(Date.parse(daylight?.sunset as string) - Date.parse(turnBackBy as string)).toBeCloseTo(
      36 * 60_000,
      -4,
    );
    const night = await walk({ startTime: "19:00" });
    expect(night.turnBackBy).toBeNull();
    expect(night.notes.join(" ")).toContain("The sun has set before 19:00");
  });

  test("the way back is slower where it climbs", async () => {
    // Down 1 in 10 over 3 km: 36 min out; back 36 min and 30 min for 300 m up. Of 102 minutes all are needed.
    const down = ground(
      [],
      hills((e) => 1000 - e / 10),
    );
    const { turnBackBy, legs } = await walk({ startTime: "08:00", backBy: "08:51" }, straight, down);
    expect(legs[0]?.timeS).toBeCloseTo(720, 0);
    expect(legs[0]?.timeBackS).toBeCloseTo(1320, 0);
    // 51 min × 36 / 102 = 18 min.
    expect(turnBackBy?.slice(0, 16)).toBe("2026-06-15T08:18");
  });

  test("a round that is early enough wherever one turns has none", async () => {
    const round = ends(place(0, 0), place(1000, 0), place(1000, 1000), place(0, 50));
    expect((await walk({ startTime: "08:30" }, round)).turnBackBy).toBeNull();
    // 41 min round by 08:50: beyond 10 minutes one cannot go back the same way in time.
    expect((await walk({ startTime: "08:30", backBy: "08:50" }, round)).turnBackBy).toBe(
      "2026-06-15T08:40:00+02:00",
    );
  });
});
