/** Fixes without noise come back exactly, whatever the place, the north and the distances. */
import { readFileSync } from "node:fs";
import geodesicLibrary from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { intersect, resect } from "../../../core/fix/from-bearings.ts";
import { type North, type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { toUtm } from "../../../core/geodesy/utm.ts";
import { utmZoneOf } from "../../../core/geodesy/utm-zone.ts";
import { normalise360 } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { evenFrom } from "./support/chance.ts";

const wgs84 = geodesicLibrary.Geodesic.WGS84;
const SETTINGS = usualFixSettings("2026-06-01");

interface Case {
  readonly truth: LonLat;
  readonly resection: readonly Sighting[];
  readonly intersection: readonly Sighting[];
}

/** Two to five known points 50 m to 40 km off, two of them at least 20° from in line; bearings by the library itself. */
function caseOf(even: () => number, norths: readonly North[]): Case {
  const truth: LonLat = [even() * 358 - 179, even() * 150 - 72];
  const count = 2 + Math.floor(even() * 4);
  const first = even() * 360;
  const known = Array.from({ length: count }, (_, i): LonLat => {
    const azimuth = i === 0 ? first : first + (even() < 0.5 ? 20 : 200) + even() * 140;
    const r = wgs84.Direct(truth[1], truth[0], azimuth, 50 * 800 ** even());
    return [r.lon2 as number, r.lat2 as number];
  });
  const zone = utmZoneOf(known[0] as LonLat);
  const read = (trueDeg: number, at: LonLat, north: North): number =>
    normalise360(
      north === "magnetic"
        ? trueDeg - declinationAt(at, 0, SETTINGS.date).deg
        : north === "grid"
          ? trueDeg - toUtm(at, zone).convergenceDeg
          : trueDeg,
    );
  const sightings = (way: "to" | "from"): Sighting[] =>
    known.map((k, i) => {
      const [a, b] = way === "to" ? [truth, k] : [k, truth];
      const north = norths[i % norths.length] as North;
      const { azi1 } = wgs84.Inverse(a[1], a[0], b[1], b[0]);
      return { known: k, name: null, deg: read(azi1 as number, a, north), north };
    });
  return { truth, resection: sightings("to"), intersection: sightings("from") };
}

const missM = (truth: LonLat, at: LonLat): number =>
  wgs84.Inverse(truth[1], truth[0], at[1], at[0]).s12 as number;

/** Source: GeographicLib's own geodesics give the bearings of places chosen at random; held to 1 cm or better. */
describe("10,000 random fixes without noise", () => {
  it("resections: 8,000 of true bearings", { timeout: 60_000 }, () => {
    const even = evenFrom(1);
    let worst = 0;
    for (let i = 0; i < 8000; i++) {
      const { truth, resection } = caseOf(even, ["true"]);
      worst = Math.max(worst, missM(truth, resect(resection, SETTINGS).at));
    }
    expect(worst).toBeLessThan(0.001);
  });

  it("resections: 1,000 of bearings on all norths", { timeout: 60_000 }, () => {
    const even = evenFrom(2);
    let worst = 0;
    for (let i = 0; i < 1000; i++) {
      const { truth, resection } = caseOf(even, ["magnetic", "grid", "true"]);
      worst = Math.max(worst, missM(truth, resect(resection, SETTINGS).at));
    }
    expect(worst).toBeLessThan(0.01);
  });

  it("intersections: 1,000 of bearings on all norths", { timeout: 60_000 }, () => {
    const even = evenFrom(3);
    let worst = 0;
    for (let i = 0; i < 1000; i++) {
      const { truth, intersection } = caseOf(even, ["grid", "magnetic", "true"]);
      worst = Math.max(worst, missM(truth, intersect(intersection, SETTINGS).at));
    }
    expect(worst).toBeLessThan(0.001);
  });
});

interface TwoBearings {
  readonly known: readonly LonLat[];
  readonly trueDeg: readonly number[];
  readonly at: LonLat;
}
const fixture = JSON.parse(
  readFileSync(new URL("../../fixtures/geodesy/two-bearings.json", import.meta.url), "utf8"),
) as { readonly intersections: readonly TwoBearings[]; readonly resections: readonly TwoBearings[] };

const sighted = ({ known, trueDeg }: TwoBearings): Sighting[] =>
  known.map((at, i) => ({ known: at, name: null, deg: trueDeg[i] as number, north: "true" }));

/**
 * Source: GeodSolve and GeodesicProj of GeographicLib's own tools (C++), see make-two-bearings.py beside the fixture. Figures
 * there have 1e-14° in places and 1e-14° in bearings; a bearing of 1e-9° is 1e-7 m at 15 km.
 */
describe("two bearings against the tools of GeographicLib", () => {
  it.each(fixture.intersections)("an intersection at $at", (example) => {
    expect(missM(example.at, intersect(sighted(example), SETTINGS).at)).toBeLessThan(1e-4);
  });
  it.each(fixture.resections)("a resection at $at", (example) => {
    expect(missM(example.at, resect(sighted(example), SETTINGS).at)).toBeLessThan(1e-4);
  });
});
