/**
 * The worked example of a resection, an intersection and a modified resection.
 * Source: the shared collection of check values, north-conversion.json, "geometry_examples": own place, known points and grid
 * azimuths in a grid plane, exact arctangents; the procedures are those of US Army FM 3-25.26, paras 6-8 and 6-9. The plane is
 * laid here into UTM zone 16 (any zone will do): over 3 km, 100 km from the central meridian, a geodesic and a straight line
 * of the grid differ in direction by 0.0003° at most (J. P. Snyder, USGS Professional Paper 1395, arc to chord), so that
 * places agree within 5 cm.
 */
import { describe, expect, it } from "vitest";
import { intersect, resect } from "../../../core/fix/from-bearings.ts";
import { type FixSettings, type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { fromUtm, toUtm } from "../../../core/geodesy/utm.ts";
import type { LonLat } from "../../../core/units/position.ts";

const utm = ([eastingM, northingM]: readonly [number, number]): LonLat =>
  fromUtm({ zone: 16, hemisphere: "N", eastingM, northingM });

const OWN = [603000, 4200000] as const;
const GM_ANGLE_DEG = 9;
const KNOWN = [
  { name: "A", at: [602000, 4203000], grid: 341.565051, magnetic: 332.565051, distanceM: 3162.278 },
  { name: "B", at: [605000, 4201000], grid: 63.434949, magnetic: 54.434949, distanceM: 2236.068 },
  { name: "C", at: [602000, 4198000], grid: 206.565051, magnetic: 197.565051, distanceM: 2236.068 },
] as const;

/** The map's margin gives the grid–magnetic angle. */
const SETTINGS: FixSettings = {
  ...usualFixSettings("2026-06-01"),
  declination: {
    use: "printed",
    printed: { valueDeg: GM_ANGLE_DEG, of: "gridMagnetic", year: 2026, annualChangeDeg: 0 },
    beyondModel: false,
  },
};

const missM = (at: LonLat, [e, n]: readonly [number, number]): number => {
  const { eastingM, northingM } = toUtm(at, 16);
  return Math.hypot(eastingM - e, northingM - n);
};
const sightings = (north: "grid" | "magnetic", count = 3): Sighting[] =>
  KNOWN.slice(0, count).map(({ name, at, ...deg }) => ({ known: utm(at), name, deg: deg[north], north }));

describe("the handbook's resection", () => {
  it.each(["grid", "magnetic"] as const)("from three %s bearings", (north) => {
    const fix = resect(sightings(north), SETTINGS);
    expect(missM(fix.at, OWN)).toBeLessThan(0.05);
    // Grid lengths are shortened by the scale: 0.9997 here.
    fix.bearings.forEach(({ distanceM }, i) =>
      expect(Math.abs(distanceM - (KNOWN[i]?.distanceM ?? 0))).toBeLessThan(1.5),
    );
    expect(fix.chance).toBeGreaterThan(0.99);
    expect(fix.warnings).toEqual([]);
  });

  it("from two of them, whose crossing angle is 81.869898°", () => {
    const fix = resect(sightings("grid", 2), SETTINGS);
    expect(missM(fix.at, OWN)).toBeLessThan(0.05);
    expect(fix.corners.map(({ crossingDeg }) => crossingDeg)[0]).toBeCloseTo(81.869898, 4);
    expect(fix.warnings.map(({ code }) => code)).toEqual(["two-only"]);
  });
});

it("the handbook's intersection", () => {
  const fix = intersect(
    [
      { known: utm(OWN), name: "own", deg: 18.434949, north: "grid" },
      { known: utm([605000, 4201000]), name: "B", deg: 333.434949, north: "grid" },
    ],
    SETTINGS,
  );
  expect(missM(fix.at, [604000, 4203000])).toBeLessThan(0.05);
});

it("the handbook's bad geometry, two points nearly in line with the walker, is warned of", () => {
  const known = [
    [602000, 4203000],
    [602100, 4204000],
  ] as const;
  const fix = resect(
    known.map(([e, n]) => ({
      known: utm([e, n]),
      name: null,
      deg: 360 + (Math.atan2(e - OWN[0], n - OWN[1]) * 180) / Math.PI,
      north: "grid",
    })),
    SETTINGS,
  );
  expect(fix.corners[0]?.crossingDeg).toBeCloseTo(5.7546, 3);
  // At that angle whatever the plane leaves out moves the place ten times as far.
  expect(missM(fix.at, OWN)).toBeLessThan(0.5);
  const codes = fix.warnings.map(({ code }) => code);
  expect(codes).toContain("narrow");
  expect(codes).toContain("elongated");
});
