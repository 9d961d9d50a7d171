import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { direct } from "../../../core/geodesy/geodesic.ts";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import {
  type DeclinationChoice,
  DEFAULT_LEG_SETTINGS,
  type LegSettings,
} from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import { normalise180, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { num, readRows } from "../../fixtures/geodesy/read-rows.ts";
import { place } from "./support/line-map.ts";

const usual = (over: Partial<LegSettings>): LegSettings => ({
  ...DEFAULT_LEG_SETTINGS,
  date: "2026-06-15",
  ...over,
});
const on = (from: LonLat, to: LonLat, over: Partial<LegSettings> = {}): LegFigures =>
  legFigures({ n: 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } }, null, usual(over));

// Source: GeoConvert (GeographicLib 2.1.2), tests/fixtures/legs/make-grid-bearings.sh: the direction from start to end in the
// coordinates of the start's zone. Over 5 km the straight line of the grid bends off the geodesic by under 0.002°.
describe("the grid bearing is what a protractor reads where the leg begins", () => {
  const grid = readRows("../legs/grid-bearings.tsv");
  const ends = new Map(readRows("geodesic.tsv").map((row) => [row["id"], row]));
  test("the rows were read", () => expect(grid).toHaveLength(20));
  test.each(grid.map((row) => ({ row, name: row["id"] as string })))("$name", ({ row }) => {
    const leg = ends.get(row["id"]) as Record<string, string>;
    const figures = on(
      [num(leg, "lon1_deg"), num(leg, "lat1_deg")],
      [num(leg, "lon2_deg"), num(leg, "lat2_deg")],
    );
    expect(figures.gridConvergenceDeg).toBeCloseTo(num(row, "convergence_deg"), 5);
    expect(Math.abs(normalise180((figures.bearingGridDeg as number) - num(row, "grid_deg")))).toBeLessThan(
      0.01,
    );
  });
});

const printed = (over: Partial<NonNullable<DeclinationChoice["printed"]>> = {}) =>
  ({ valueDeg: -12.5, of: "declination", year: 2005, annualChangeDeg: 8 / 60, ...over }) as const;

describe("the printed map's declination", () => {
  // By hand (rule of the declination diagram, US Army TC 3-25.26 chapter 6): value + years × annual change.
  // 2024-07-02 is day 183 of 366 gone by: 2024.5; so is 2026-07-02 12:00, within 0.0014 years.
  test.each([
    ["12°30′ W in 2005, 8′ E a year, on 2025.0", -12.5, 2005, 8, "2025-01-01", -9.833333],
    ["0°20′ W in 2012.5, 11′ E a year, on 2026.5", -20 / 60, 2012.5, 11, "2026-07-02", 2.233333],
    ["14°05′ E in 1998, 6′ W a year, on 2026.0", 14 + 5 / 60, 1998, -6, "2026-01-01", 11.283333],
  ] as const)("%s", (_, valueDeg, year, minutes, date, deg) => {
    const figures = on(place(0, 0), place(300, 400), {
      date,
      declination: {
        use: "printed",
        printed: printed({ valueDeg, year, annualChangeDeg: minutes / 60 }),
        beyondModel: false,
      },
    });
    expect(figures.declinationDeg).toBeCloseTo(deg, 3);
    expect(figures.declinationPrintedDeg).toBe(figures.declinationDeg);
    expect(
      normalise180((figures.bearingTrueDeg as number) - deg - (figures.bearingMagneticDeg as number)),
    ).toBeCloseTo(0, 3);
    // No error of it is known; the model's stands beside it.
    expect(figures.declinationUncertaintyDeg).toBeNull();
    expect(figures.declinationModelDeg).toBeCloseTo(
      declinationAt(direct(place(0, 0), trueBearing(figures.bearingTrueDeg as number), 250), 0, date).deg,
      6,
    );
  });

  // Source: US Army Soldier's Manual of Common Tasks, converting an azimuth: 190° magnetic with a G–M angle of 9° E is
  // 199° grid. Whatever the convergence, grid less the printed angle is magnetic.
  test("a grid–magnetic angle goes between grid and magnetic as it is printed", () => {
    for (const lon of [18.5, 20.45, 23.6]) {
      const from: LonLat = [lon, -34.02];
      const figures = on(from, direct(from, trueBearing(199), 1500), {
        declination: {
          use: "printed",
          printed: printed({ valueDeg: 9, of: "gridMagnetic", year: 2026, annualChangeDeg: 0 }),
          beyondModel: false,
        },
      });
      expect((figures.bearingGridDeg as number) - (figures.bearingMagneticDeg as number)).toBeCloseTo(9, 9);
    }
  });

  test("beside the model when that rules, and the difference in the walk's figures", async () => {
    const declination: DeclinationChoice = { use: "model", printed: printed(), beyondModel: false };
    const figures = await walkFigures(
      [place(0, 0), place(300, 400)].map((lonLat, i) => ({ label: "AB".charAt(i), lonLat })),
      null,
      usual({ declination }),
    );
    const { declination: of, notes, legs } = figures;
    expect(of.from).toBe("model");
    expect(of.deg).toBe(of.modelDeg);
    expect(of.differenceDeg).toBeCloseTo((of.printedDeg as number) - (of.modelDeg as number), 9);
    expect(legs[0]?.declinationPrintedDeg).toBeCloseTo(of.printedDeg as number, 2);
    // −9.64° beside −27.9°: far beyond the model's 0.6°; and 21.5 years old.
    expect(notes.join(" ")).toMatch(/differ by 18\.\d°: more than the model’s error of 0\.6°/);
    expect(notes.join(" ")).toContain("is 21 years old: after 20 years");
  });

  test("one that agrees and is young leaves no note", async () => {
    const at = declinationAt(place(150, 200), 0, "2026-06-15");
    const figures = await walkFigures(
      [place(0, 0), place(300, 400)].map((lonLat, i) => ({ label: "AB".charAt(i), lonLat })),
      null,
      usual({
        declination: {
          use: "printed",
          printed: printed({ valueDeg: at.deg + 0.9 * at.uncertaintyDeg, year: 2026.45, annualChangeDeg: 0 }),
          beyondModel: false,
        },
      }),
    );
    expect(figures.declination).toMatchObject({ from: "printed", uncertaintyDeg: null, model: "WMM2025" });
    expect(figures.notes.join(" ")).not.toMatch(/printed/);
  });

  test("one that is to rule but was not given gives no bearing; one that cannot be is refused", () => {
    const figures = on(place(0, 0), place(300, 400), {
      declination: { use: "printed", printed: null, beyondModel: false },
    });
    expect(figures.bearingMagneticDeg).toBeNull();
    expect(figures.notes).toContain(
      "No magnetic bearing: the declination printed on the map is to rule, but none was given.",
    );
    expect(() =>
      on(place(0, 0), place(300, 400), {
        declination: { use: "model", printed: printed({ valueDeg: 200 }), beyondModel: false },
      }),
    ).toThrow(Fault);
  });
});

describe("a day beyond the model's years", () => {
  const date = "2041-01-01";
  test("has a magnetic bearing only when the person insists, and then marked", () => {
    const refused = on(place(0, 0), place(300, 400), { date });
    expect(refused).toMatchObject({ bearingMagneticDeg: null, beyondModel: false });
    const insisted = on(place(0, 0), place(300, 400), {
      date,
      declination: { use: "model", printed: null, beyondModel: true },
    });
    expect(insisted.bearingMagneticDeg).not.toBeNull();
    expect(insisted.beyondModel).toBe(true);
    expect(insisted.notes.join(" ")).toContain(
      "Declination and magnetic bearings rest on WMM2025 carried on beyond its years",
    );
  });
  test("is no matter where the printed value rules", () => {
    const figures = on(place(0, 0), place(300, 400), {
      date,
      declination: { use: "printed", printed: printed({ year: 2030 }), beyondModel: false },
    });
    expect(figures).toMatchObject({
      beyondModel: false,
      declinationModelDeg: null,
      declinationChangeDeg: null,
    });
    expect(figures.bearingMagneticDeg).not.toBeNull();
    expect(figures.notes.join(" ")).not.toContain("No magnetic bearing");
  });
  test("the walk's declination says so as well", async () => {
    const { declination } = await walkFigures(
      [{ label: "A", lonLat: place(0, 0) }],
      null,
      usual({ date, declination: { use: "model", printed: null, beyondModel: true } }),
    );
    expect(declination).toMatchObject({ beyondModel: true, model: "WMM2025", zone: "ok" });
  });
});

// Source: RhumbSolve and GeodSolve (GeographicLib 2.1.2), tests/fixtures/geodesy/rhumb.tsv: both lines between the same ends.
describe("one bearing for the whole leg", () => {
  const rows = readRows("rhumb.tsv").filter((row) => row["kind"] === "direct" && num(row, "s12_m") <= 25_000);
  test("the rows were read", () => expect(rows.length).toBeGreaterThanOrEqual(10));
  test.each(rows.map((row) => ({ row, name: row["id"] as string })))("$name", ({ row }) => {
    const figures = on(
      [num(row, "lon1_deg"), num(row, "lat1_deg")],
      [num(row, "lon2_deg"), num(row, "lat2_deg")],
    );
    // A line that leaves at an angle δ to the chord and comes back is off it by L·δ/4 at its middle, as a flat arc is.
    const turn = normalise180(num(row, "azi12_deg") - num(row, "geodesic_azi1_deg"));
    const bow = (num(row, "s12_m") * turn * Math.PI) / 180 / 4;
    expect(figures.rhumbOffsetM).toBeCloseTo(bow, num(row, "s12_m") > 10_000 ? 0 : 1);
    const said = figures.notes.filter((note) => note.startsWith("Kept all the way"));
    expect(said).toHaveLength(Math.abs(bow) > 1 ? 1 : 0);
  });

  test("the note says where the first bearing ends and how the line of one bearing lies", () => {
    // r05: 25 km at 55° S on 315°; the geodesic leaves on 314.887906°, 0.112094° less. Kept, it ends 25 km × that = 48.9 m
    // to the left, and the line of one bearing bows by a quarter of it to the right.
    const row = rows.find(({ id }) => id === "r05") as Record<string, string>;
    const { notes } = on(
      [num(row, "lon1_deg"), num(row, "lat1_deg")],
      [num(row, "lon2_deg"), num(row, "lat2_deg")],
    );
    expect(notes.find((note) => note.startsWith("Kept"))).toBe(
      "Kept all the way, the bearing at the start ends 49 m left of the target; the line of one bearing lies 0.11° more and runs up to 12 m right of the straight leg.",
    );
  });

  test("a change of declination along the leg is mentioned when it is more than a mark", () => {
    // 30 km near the magnetic pole, where WMM2025's declination turns fast.
    const from: LonLat = [-100, 82];
    const leg = (graduationDeg: number): LegFigures =>
      on(from, direct(from, trueBearing(90), 30_000), { graduationDeg });
    const change = leg(1).declinationChangeDeg as number;
    const [a, b] = [from, direct(from, trueBearing(90), 30_000)].map(
      (lonLat) => declinationAt(lonLat, 0, "2026-06-15").deg,
    ) as [number, number];
    expect(change).toBeCloseTo(b - a, 9);
    expect(Math.abs(change)).toBeGreaterThan(1);
    expect(leg(1).notes.join(" ")).toMatch(/Declination changes by \d+\.\d° along the leg/);
    expect(leg(Math.abs(change) + 0.1).notes.join(" ")).not.toContain("Declination changes");
  });
});
