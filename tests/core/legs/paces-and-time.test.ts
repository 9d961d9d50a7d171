import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings, legSettingsOf } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { NO_FACTORS } from "../../../core/travel/walking-time.ts";
import { emptyWalk } from "../../../core/walk/walk.ts";
import { drawn, ground, hills, place } from "./support/line-map.ts";

/** A leg due east over ground whose height depends on how far east one is. */
function over(
  lengthM: number,
  height: (eastM: number) => number,
  settings: Partial<LegSettings> = {},
  lines: Parameters<typeof ground>[0] = [],
): LegFigures {
  return legFigures(
    { n: 1, from: { label: "A", lonLat: place(0, 0) }, to: { label: "B", lonLat: place(lengthM, 0) } },
    ground(lines, hills(height)),
    { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15", ...settings },
  );
}
/** An even slope that gains this much over the leg. */
const slope = (lengthM: number, gainM: number, settings: Partial<LegSettings>): LegFigures =>
  over(lengthM, (e) => 1000 + (e * gainM) / lengthM, settings);

describe("every rule of walking time, along the leg's own profile", () => {
  test.each([
    // W. W. Naismith, Scottish Mountaineering Club Journal 2 (1892): 12 km and 600 m, in the customary metric form
    // 2.4 + 1 h and by his miles and feet 12/4.828032 + 600/609.6 h; down takes no more than level ground.
    ["naismith", 12_000, 600, 3.4 * 60, 2.4 * 60],
    ["naismith1892", 12_000, 600, 3.46974 * 60, 2.48549 * 60],
    // Coefficients in the manual of GRASS GIS r.walk: 1 km with 150 m down 7.0 min, with 150 m up 27.0 min.
    ["langmuir", 1000, -150, 7.0, 27.0],
    // W. Tobler, NCGIA Technical Report 93-1 (1993): 3.549332 km/h at a slope of 0.1, 5.036742 km/h at −0.1.
    ["tobler", 1000, 100, 16.9046, 11.9125],
    ["toblerOffPath", 1000, 100, 16.9046 / 0.6, 11.9125 / 0.6],
    // The German and Austrian alpine clubs' own example of DIN 33466: 8 km with 900 m up take 4 h; down 2 + 1.8/2 h.
    ["din33466", 8000, 900, 240, 174],
    // Sum of the coefficients of the Swiss formula at 10 % (19.99866 min a km), and with alternating signs at −10 %.
    ["swiss", 1000, 100, 19.99866, 14.20858],
  ] as const)("%s: %d m with %d m", (timeMethod, lengthM, gainM, minutes, minutesBack) => {
    const { timeS, timeBackS } = slope(lengthM, gainM, { timeMethod });
    expect((timeS as number) / 60 / minutes).toBeCloseTo(1, 3);
    expect((timeBackS as number) / 60 / minutesBack).toBeCloseTo(1, 3);
  });

  test("the party's factors and rests lengthen it, there and back", () => {
    // 2.4 + 1 h, times 1.2 × 1.1, with a sixth more for 10 minutes in the hour.
    const { timeS } = slope(12_000, 600, {
      timeFactors: { party: 1.2, load: 1.1, surface: 1, breakMinPerHour: 10 },
    });
    expect((timeS as number) / 3600 / (3.4 * 1.2 * 1.1 * (7 / 6))).toBeCloseTo(1, 3);
    expect(() => slope(100, 0, { timeFactors: { ...NO_FACTORS, load: 0 } })).toThrow(Fault);
  });

  test("walked back, the times change places, whatever the rule", () => {
    const height = (e: number): number => 300 + 60 * Math.sin(e / 170) + e / 30;
    const lengthM = 1000;
    for (const timeMethod of ["naismith", "langmuir", "tobler", "din33466", "swiss"] as const) {
      const there = over(lengthM, height, { timeMethod });
      const back = over(lengthM, (e) => height(lengthM - e), { timeMethod });
      expect(Math.abs((there.timeBackS as number) - (back.timeS as number))).toBeLessThan(1);
      expect(Math.abs((there.timeS as number) - (back.timeBackS as number))).toBeLessThan(1);
    }
  });

  test("without heights there is none, by any rule, and the reason stands in the notes", () => {
    for (const timeMethod of ["naismith", "tobler"] as const) {
      const { timeS, timeBackS, notes } = over(1000, () => NaN, { timeMethod });
      expect([timeS, timeBackS]).toEqual([null, null]);
      expect(notes.join(" ")).toContain("walking time are left out");
    }
  });
});

describe("paces", () => {
  // Source: US Army Soldier's Manual of Common Tasks, 071-329-1006: 116 steps to 100 m on a road, 148 across country.
  test("in the walker's own count", () => {
    expect(over(500, () => 100, { pacesPer100m: 116, paceSteps: 1 }).paces).toBe(580);
    expect(over(500, () => 100, { pacesPer100m: 148, paceSteps: 1 }).paces).toBe(740);
  });

  /** Up 1 in 10 (5.7°) for 400 m, level for 200 m, down 1 in 10 for 400 m. */
  const hill = (e: number): number => 100 + Math.min(40, e / 10) - Math.max(0, (e - 600) / 10);
  const counts = { pacesPer100m: 58, upPer100m: 74, downPer100m: 60 };
  const lines = [450, 500, 900].map((e) =>
    drawn("path", [
      [e, -50],
      [e, 50],
    ]),
  );

  test("by slope: the leg's count and that at each crossing", () => {
    // By hand: 4 × 74 up, 2 × 58 level, 4 × 60 down; at 450 m 4 × 74 + 29, at 500 m 4 × 74 + 58, at 900 m 592.
    const figures = over(1000, hill, counts, lines);
    expect(figures.pacesOnSlope).toBe(true);
    expect(figures.paces).toBe(652);
    expect(figures.crossings.map(({ paces }) => paces)).toEqual([325, 354, 592]);
  });

  test("one count for all slopes is the plain one", () => {
    const figures = over(1000, hill, { pacesPer100m: 58, upPer100m: 58 }, lines);
    expect(figures).toMatchObject({ paces: 580, pacesOnSlope: false });
  });

  test("without heights the count for flat ground, and a note that says so", () => {
    const figures = over(1000, () => NaN, counts, lines);
    expect(figures).toMatchObject({ paces: 580, pacesOnSlope: false });
    expect(figures.crossings.map(({ paces }) => paces)).toEqual([261, 290, 522]);
    expect(figures.notes).toContain(
      "Paces are by the count for flat ground: the heights to tell up from down are missing.",
    );
  });

  test.each([0, NaN, 1000])("a count of %d is refused wherever it stands", (count) => {
    for (const key of ["pacesPer100m", "upPer100m", "downPer100m"])
      expect(() => over(1000, hill, { [key]: count })).toThrow(Fault);
  });
});

test("a walk's own choices are the settings its figures are worked out with", async () => {
  const walk = {
    ...emptyWalk("2026-06-15"),
    pace: { per100m: 58, upPer100m: 74, downPer100m: null, steps: 1 as const },
    timeMethod: "din33466" as const,
    timeFactors: { ...NO_FACTORS, party: 1.5 },
    startTime: "08:30",
    backBy: "17:00",
    timeZone: "Europe/Oslo",
  };
  const settings = legSettingsOf(walk, { graduationDeg: 2 });
  expect(settings).toEqual({
    ...DEFAULT_LEG_SETTINGS,
    date: "2026-06-15",
    graduationDeg: 2,
    pacesPer100m: 58,
    upPer100m: 74,
    downPer100m: null,
    paceSteps: 1,
    timeMethod: "din33466",
    timeFactors: { party: 1.5, load: 1, surface: 1, breakMinPerHour: 0 },
    startTime: "08:30",
    backBy: "17:00",
    timeZone: "Europe/Oslo",
  });
  // What a new walk has gives the figures of the usual settings.
  const usual = legSettingsOf(emptyWalk("2026-06-15"));
  expect(usual).toEqual({ ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" });
  expect((await walkFigures([], null, usual)).legs).toEqual([]);
});

test("lengths in notes are in feet when asked, and the figures stay in metres", () => {
  const settings = { lengthUnit: "imperial" as const };
  const metric = over(1000, () => 100);
  const imperial = over(1000, () => 100, settings);
  expect(metric.notes.join(" ")).toContain("Nothing within 500 m beyond");
  expect(imperial.notes.join(" ")).toContain("Nothing within 1640 ft beyond");
  expect(imperial.distanceM).toBe(metric.distanceM);
});
