/**
 * Geodesics on WGS 84 by Karney's algorithm.
 * Source: C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013) 43–55, doi 10.1007/s00190-012-0578-z,
 * as implemented by geographiclib-geodesic. Only this file imports that library: its results are loosely typed.
 */
import geodesicLibrary from "geographiclib-geodesic";
import { type TrueBearing, trueBearing } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { Fault } from "../fault.ts";

const wgs84 = geodesicLibrary.Geodesic.WGS84;

export interface Inverse {
  /** Shortest distance on the ellipsoid, metres. */
  readonly distanceM: number;
  /** Bearing at the start, true. */
  readonly bearing: TrueBearing;
  /** Bearing on arriving at the end, true: differs from `bearing` on long legs. */
  readonly arrivalBearing: TrueBearing;
}

const finite = (value: number | undefined, what: string): number => {
  if (value === undefined || !Number.isFinite(value))
    throw new Fault("internal", `The geodesic has no ${what}.`);
  return value;
};

/**
 * Distance and bearings from one position to another.
 * Coincident positions give distance 0 and bearing 180 or 0, which mean nothing: check the distance first.
 * @throws Fault "bad-argument" for a position that is none
 */
export function inverse(from: LonLat, to: LonLat): Inverse {
  checkLonLat(from);
  checkLonLat(to);
  const r = wgs84.Inverse(from[1], from[0], to[1], to[0]);
  return {
    distanceM: finite(r.s12, "distance"),
    bearing: trueBearing(finite(r.azi1, "bearing")),
    arrivalBearing: trueBearing(finite(r.azi2, "bearing")),
  };
}

/**
 * The position reached by walking `distanceM` metres along the geodesic that starts on `bearing` (degrees true).
 * @throws Fault "bad-argument" for a position that is none or a figure that is not finite
 */
export function direct(from: LonLat, bearing: TrueBearing, distanceM: number): LonLat {
  checkLonLat(from);
  if (!Number.isFinite(bearing) || !Number.isFinite(distanceM))
    throw new Fault("bad-argument", "A bearing and a distance must be numbers.");
  const r = wgs84.Direct(from[1], from[0], bearing, distanceM);
  return [finite(r.lon2, "longitude"), finite(r.lat2, "latitude")];
}
