import { describe, expect, test } from "vitest";
import { howOf, HOW_FIGURES, type HowFigure } from "../../../core/legs/how/how.ts";
import { northRuleSentence } from "../../../core/legs/how/how-norths.ts";
import type { LegTable } from "../../../core/legs/table/leg-table.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { TIME_METHODS, type TimeMethod } from "../../../core/travel/walking-time.ts";
import { ground, hills, place } from "./support/line-map.ts";
import { sampleTable } from "./support/sample-table.ts";

const KEYS = Object.keys(HOW_FIGURES) as HowFigure[];
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");
const how = (figure: HowFigure, table: LegTable, n = 1): string =>
  plain(howOf(figure, table.figures.legs[n - 1] as never, table).join("\n"));

async function tableWith(
  over: Partial<LegSettings>,
  height: (e: number, n: number) => number = () => 100,
  rest: Partial<LegTable> = {},
): Promise<LegTable> {
  const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15", timeZone: "Africa/Johannesburg", ...over };
  const points = [place(0, 0), place(1000, 0), place(1000, 800)].map((lonLat, i) => ({
    label: "ABC".charAt(i),
    lonLat,
  }));
  const land = ground([], hills(height));
  return {
    title: "Drawn",
    date: settings.date,
    points,
    figures: await walkFigures(points, land, settings),
    map: land.map.info,
    settings,
    ...rest,
  };
}

describe("every figure of every leg has its explanation", () => {
  const cases: [string, Promise<LegTable>][] = [
    ["over ground", sampleTable()],
    ["without a map", sampleTable({ noMap: true })],
    [
      "in feet, on grid north, in mils",
      sampleTable({
        lengthUnit: "imperial",
        north: "grid",
        compass: { unit: "mils", graduationDeg: 0.5625, adjustable: true },
      }),
    ],
    ["beyond the model", tableWith({ date: "2041-06-15" })],
    [
      "without length",
      (async () => {
        const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15", startTime: "08:00" };
        const points = [0, 0].map(() => ({ label: "A", lonLat: place(0, 0) }));
        const figures = await walkFigures(points, null, settings);
        return { title: "", date: settings.date, points, figures, map: null, settings };
      })(),
    ],
  ];
  test.each(cases)("%s", async (_, promised) => {
    const table = await promised;
    for (const leg of table.figures.legs)
      for (const figure of KEYS) {
        const sentences = howOf(figure, leg, table);
        expect(sentences.length, figure).toBeGreaterThan(0);
        for (const sentence of sentences) {
          expect(sentence, figure).toMatch(/^\S.*\.$/);
          expect(sentence, figure).not.toMatch(/NaN|undefined|null|Infinity|\[object| {2}|\.\.$/);
        }
        expect(new Set(sentences).size, figure).toBe(sentences.length);
      }
  });
});

describe("the sums come out", () => {
  // Western declination is added, eastern convergence taken off: US Army TC 3-25.26, table 6-1.
  test("bearings", async () => {
    const text = how("bearing", await tableWith({}));
    const [, grid, from, convergence] =
      /Grid bearing ([\d.]+)° = ([\d.]+)° − ([\d.]+)° E of convergence at A/.exec(text) ?? [];
    expect(Number(grid)).toBeCloseTo(Number(from) - Number(convergence), 1);
    const [, magnetic, from2, declination] =
      /Magnetic bearing ([\d.]+)° = ([\d.]+)° \+ ([\d.]+)° W of declination at the middle of the leg/.exec(
        text,
      ) ?? [];
    expect(Number(magnetic)).toBeCloseTo(Number(from2) + Number(declination), 1);
    expect(text).toContain("(Karney 2013)");
    expect(text).toContain(`set ${Math.round(Number(magnetic))}° magnetic`);
    // tan 0.577° × 1000 m = 10.1 m.
    expect(text).toMatch(/error of ± 0\.6° is ± 10 m to the side at B/);
  });

  test("a printed declination is brought to the day", async () => {
    // By hand (rule of the declination diagram, US Army TC 3-25.26 chapter 6): −12.5° + 20 × 8′/60 = −9.83°.
    const table = await tableWith({
      date: "2025-01-01",
      declination: {
        use: "printed",
        printed: { valueDeg: -12.5, of: "declination", year: 2005, annualChangeDeg: 8 / 60 },
        beyondModel: false,
      },
    });
    const text = how("declination", table);
    expect(text).toContain("a declination of 12.50° W for 2005");
    expect(text).toContain("20.0 years on, that is 9.83° W");
    expect(text).toMatch(/The two differ by 1\d\.\d\d°; the map’s margin rules, as chosen/);
    expect(text).toContain(
      "Magnetic north lies 9.8° W of true north; map to compass: add 9.8°, compass to map: subtract 9.8°.",
    );
  });

  // Source: US Army Soldier's Manual of Common Tasks, converting an azimuth: 190° magnetic with 9° E of G–M angle is 199° grid.
  test("the rule in words for who works on the grid", () => {
    expect(plain(northRuleSentence(9, 0, { north: "grid" }))).toBe(
      "Magnetic north lies 9.0° E of grid north; map to compass: subtract 9.0°, compass to map: add 9.0°.",
    );
    // Grid–magnetic angle = declination − convergence.
    expect(plain(northRuleSentence(10, -1.5, { north: "grid" }))).toContain("11.5° E of grid north");
    expect(plain(northRuleSentence(10, -1.5, { north: "true" }))).toContain("10.0° E of true north");
  });

  test("climb, slope and steepest on 1 in 10", async () => {
    const table = await tableWith({}, (e) => e / 10);
    expect(how("climb", table)).toMatch(/^100 m: the rises/);
    expect(how("descent", table)).toMatch(/^0 m: the falls/);
    // √(1000² + 100²) = 1004.99 m.
    expect(how("slopeDistance", table)).toMatch(/^1005 m over the ground: .* 5 m more/);
    // atan 0.1 = 5.7°.
    expect(how("steepest", table)).toMatch(/^6°, 10 %, 1 in 10: .* steepest 20 m, going up/);
    expect(how("climb", table)).toContain(
      "Rises and falls under 1 m (a tenth of the contour interval, at least 1 m)",
    );
  });

  test("paces and beads", async () => {
    // 1000 m at 58 double paces to 100 m (US Army Soldier's Manual, 116 steps on a road): 580, ten beads and none over.
    expect(how("paces", await tableWith({ pacesPer100m: 58 }))).toMatch(
      /^580 double paces \(two steps\): 1000 m of map distance at 58 to 100 m\.\nWith a bead for every 58 paces: \d+ beads/,
    );
    const slope = await tableWith({ pacesPer100m: 58, upPer100m: 74 }, (e) => e / 10);
    // 74 double paces up and down across country (the same task): 1 in 10 is 5.7°, so all of it is uphill.
    expect(how("paces", slope)).toMatch(
      /^740 double paces .* 58 to 100 m on the flat, 74 going up and 58 going down\./,
    );
  });

  test("time names its rule, its source, and what the party adds", async () => {
    for (const timeMethod of Object.keys(TIME_METHODS) as TimeMethod[]) {
      const text = how("time", await tableWith({ timeMethod }, (e) => e / 10));
      expect(text.split("\n")[0], timeMethod).toMatch(/\((Naismith|Langmuir|Tobler|DIN|the formula).*\)\.$/);
    }
    const text = how(
      "time",
      await tableWith(
        { timeFactors: { party: 1.5, load: 1, surface: 1.1, breakMinPerHour: 10 } },
        (e) => e / 10,
      ),
    );
    // 12 + 10 min, times 1.5 × 1.1, and a sixth more: 42.35 min; back 12 min × 1.65 × 7 ⁄ 6 = 23.1 min.
    expect(text).toContain(
      "From 1000 m, 100 m up, times 1.5 for the party, times 1.1 for the surface, with 10 min of rest an hour: 42 min, and 23 min for the way back.",
    );
  });

  test("arrival and daylight by the walk's clock", async () => {
    const table = await tableWith({ startTime: "08:30" });
    expect(how("arrival", table)).toBe(
      "08:42 = 08:30 and 12 min of walking up to B, rests included, by the clock of Africa/Johannesburg.",
    );
    expect(how("daylight", table)).toMatch(
      /^Sunrise 07:\d\d, sunset 17:\d\d; civil twilight from 07:\d\d to 18:\d\d, at the middle of the walk/,
    );
    expect(how("daylight", table)).toMatch(/The walk ends \d h \d\d min before sunset/);
  });
});

test("lengths are in the unit asked for", async () => {
  const table = await sampleTable({ lengthUnit: "imperial" });
  const all = KEYS.filter((figure) => figure !== "paces")
    .map((figure) => how(figure, table))
    .join("\n");
  expect(all).toMatch(/\d ft/);
  expect(all.replace(/600 m of climb|100 m/g, "")).not.toMatch(/\d m\b/);
});
