/**
 * The WGS 84 ellipsoid and its radii.
 * Source: NGA.STND.0036 (World Geodetic System 1984), defining parameters a and 1/f; radii as in J. P. Snyder,
 * Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), eqs. 4-18 and 4-20.
 */
import { DEG } from "../units/angle.ts";

/** Semi-major axis, metres. */
export const SEMI_MAJOR_M = 6_378_137;
export const FLATTENING = 1 / 298.257223563;
/** First eccentricity squared. */
export const E2 = FLATTENING * (2 - FLATTENING);

/** Radius of curvature of the meridian at a latitude in degrees, metres. */
export function meridianRadius(latDeg: number): number {
  const s = Math.sin(latDeg * DEG);
  const w = 1 - E2 * s * s;
  return (SEMI_MAJOR_M * (1 - E2)) / (w * Math.sqrt(w));
}

/** Radius of the parallel at a latitude in degrees, metres. */
export function parallelRadius(latDeg: number): number {
  const s = Math.sin(latDeg * DEG);
  return (SEMI_MAJOR_M * Math.cos(latDeg * DEG)) / Math.sqrt(1 - E2 * s * s);
}
