import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { legFigures } from "../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../../core/legs/leg-settings.ts";
import { normalise180, normalise360 } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { readRows } from "../../fixtures/geodesy/read-rows.ts";
import { drawn, ground, hills, place } from "./support/line-map.ts";

const settings: LegSettings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const leg = (from: LonLat, to: LonLat) => ({
  n: 1,
  from: { label: "A", lonLat: from },
  to: { label: "B", lonLat: to },
});

describe("without a map", () => {
  // Source: GeodSolve -i -p 9 (GeographicLib 2.1.2), tests/fixtures/geodesy/geodesic.tsv; legs one might walk.
  const rows = readRows("geodesic.tsv").filter((row) => row["band"] === "under-5km");
  test.for(rows)("distance and bearings of $id", (row) => {
    const number = (name: string): number => Number(row[name]);
    const figures = legFigures(
      leg([number("lon1_deg"), number("lat1_deg")], [number("lon2_deg"), number("lat2_deg")]),
      null,
      settings,
    );
    expect(Math.abs(figures.distanceM - number("s12_m"))).toBeLessThan(0.001);
    expect(Math.abs(normalise180((figures.bearingTrueDeg as number) - number("azi1_deg")))).toBeLessThan(
      0.0001,
    );
    expect(figures.paces).toBe(Math.round(number("s12_m") * 0.65));
    const magnetic = figures.bearingMagneticDeg as number;
    expect(
      Math.abs(normalise180(number("azi1_deg") - (figures.declinationDeg as number) - magnetic)),
    ).toBeLessThan(0.0001);
    expect(
      Math.abs(
        normalise180(
          number("azi1_deg") - (figures.gridConvergenceDeg as number) - (figures.bearingGridDeg as number),
        ),
      ),
    ).toBeLessThan(0.0001);
    expect(Math.abs(normalise360((figures.backBearingMagneticDeg as number) - magnetic) - 180)).toBeLessThan(
      1e-9,
    );
  });
  test("the rows were read", () => expect(rows).toHaveLength(20));

  test("what needs a map is absent, and each absence has its sentence", () => {
    const figures = legFigures(leg(place(0, 0), place(300, 400)), null, settings);
    expect(figures).toMatchObject({
      slopeDistanceM: null,
      climbM: null,
      descentM: null,
      steepestDeg: null,
      elevationErrorM: null,
      timeS: null,
      crossings: [],
      handrails: [],
      backstop: null,
    });
    expect(figures.notes.join(" ")).toMatch(
      /no heights.*climb, descent, slope distance, steepest stretch and walking time/,
    );
    expect(figures.notes.join(" ")).toMatch(/no map.*crossings, handrails and a backstop/);
  });

  test("two points in one place have a distance of 0 and no bearing", () => {
    const figures = legFigures(leg(place(10, 10), place(10, 10)), null, settings);
    expect(figures).toMatchObject({
      distanceM: 0,
      paces: 0,
      bearingTrueDeg: null,
      bearingGridDeg: null,
      bearingMagneticDeg: null,
      backBearingMagneticDeg: null,
    });
    expect(figures.notes).toContain("Both ends are the same place: there is no bearing.");
  });

  test("a day outside the model's years leaves the magnetic bearing out and says so", () => {
    const figures = legFigures(leg(place(0, 0), place(0, 500)), null, { ...settings, date: "2041-01-01" });
    expect(figures.bearingMagneticDeg).toBeNull();
    expect(figures.declinationDeg).toBeNull();
    expect(figures.bearingGridDeg).not.toBeNull();
    expect(figures.notes.some((note) => note.startsWith("No magnetic bearing:"))).toBe(true);
  });

  test("near the magnetic pole it says that a compass is useless", () => {
    // Source: WMM2025 blackout zone (H < 2000 nT); 86° N 140° E lies within a few hundred km of the 2026 dip pole.
    const figures = legFigures(leg([140, 86], [140, 86.004]), null, settings);
    expect(figures.notes.join(" ")).toContain("compass is useless");
  });

  test("a coordinate that is no number is refused, not worked with", () => {
    expect(() => legFigures(leg([NaN, 10], [0, 0]), null, settings)).toThrow(Fault);
    expect(() => legFigures(leg(place(0, 0), place(9, 9)), null, { ...settings, pacesPer100m: NaN })).toThrow(
      Fault,
    );
  });
});

describe("over ground", () => {
  test("an even slope: climb, slope distance, steepest stretch and Naismith's time by hand", () => {
    // 1 in 10 over 1000 m: rise 100 m, √(1000² + 100²) = 1004.988 m, atan 0.1 = 5.711°; 5 km/h and 600 m/h: 12 + 10 min.
    const up = legFigures(
      leg(place(0, 0), place(1000, 0)),
      ground(
        [],
        hills((e) => 200 + e / 10),
      ),
      settings,
    );
    expect(up.climbM).toBeCloseTo(100, 2);
    expect(up.descentM).toBeCloseTo(0, 6);
    expect(up.slopeDistanceM).toBeCloseTo(1004.988, 2);
    expect(up.steepestDeg).toBeCloseTo(5.7106, 3);
    expect(up.timeS).toBeCloseTo(22 * 60, 0);
    expect(up.profile.from).toBe("terrain");
  });

  test("declination is that of the leg's middle, at its height", () => {
    const figures = legFigures(
      leg(place(0, 0), place(4000, 0)),
      ground(
        [],
        hills(() => 2500),
      ),
      settings,
    );
    expect(figures.declinationDeg).toBeCloseTo(declinationAt(place(2000, 0), 2500, settings.date).deg, 6);
  });

  test("crossings carry their height and paces", () => {
    const lines = [
      drawn(
        "stream",
        [
          [300, -50],
          [300, 50],
        ],
        "Fern Beck",
      ),
      drawn("path", [
        [650, -50],
        [700, 50],
      ]),
    ];
    const { crossings } = legFigures(
      leg(place(0, 0), place(1000, 0)),
      ground(
        lines,
        hills((e) => e / 10),
      ),
      settings,
    );
    expect(crossings.map(({ kind, name }) => [kind, name])).toEqual([
      ["stream", "Fern Beck"],
      ["path", null],
    ]);
    expect(crossings[0]?.atM).toBeCloseTo(300, 2);
    expect(crossings[0]?.elevationM).toBeCloseTo(30, 1);
    expect(crossings[0]?.paces).toBe(195); // 300 m at 65 to 100 m
    expect(crossings[0]?.crossingDeg).toBeCloseTo(90, 1);
    expect(crossings[1]?.crossingDeg).toBeCloseTo(63.43, 1); // atan 2
  });

  test("a hole in the heights takes climb and time away, not bearing and distance", () => {
    const figures = legFigures(
      leg(place(0, 0), place(1000, 0)),
      ground(
        [],
        hills((e) => (e > 400 && e < 500 ? NaN : 100)),
      ),
      settings,
    );
    expect(figures).toMatchObject({ climbM: null, descentM: null, slopeDistanceM: null, timeS: null });
    expect(figures.notes.join(" ")).toMatch(/Heights are missing on 1\d\d m of the leg/);
    expect(figures.distanceM).toBeCloseTo(1000, 2);
  });

  test("rises under the threshold are not climbed; the threshold is a tenth of the interval", () => {
    const wavy = hills((e) => 100 + 0.7 * Math.sin(e / 20));
    const legOver = leg(place(0, 0), place(1000, 0));
    expect(
      legFigures(legOver, ground([], wavy, { interval: { value: 20, unit: "m" } }), settings).climbM,
    ).toBe(0); // threshold 2 m, waves of 1.4 m
    expect(
      legFigures(legOver, ground([], wavy), { ...settings, climbThresholdM: 0.5 }).climbM,
    ).toBeGreaterThan(9);
  });
});
