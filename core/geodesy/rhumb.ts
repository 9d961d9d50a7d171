/**
 * Rhumb lines on WGS 84: the way walked by keeping one true bearing.
 * Source: J. P. Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), eq. 3-20 (meridian
 * distance) and chapter 7 (isometric latitude on the ellipsoid). Small differences of both are taken as means, so
 * that lines along a parallel lose no figures.
 */
import { Fault } from "../fault.ts";
import { DEG, normalise180, trueBearing, type TrueBearing } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { E2, meridianRadius, parallelRadius } from "./ellipsoid.ts";
import { legFrame } from "./leg-frame.ts";

const E = Math.sqrt(E2);

/** Abscissas and weights of Gauss and Legendre's rule with 8 points on −1 … 1 (Abramowitz and Stegun, table 25.4). */
const GAUSS = [
  [0.1834346424956498, 0.362683783378362],
  [0.525532409916329, 0.3137066458778873],
  [0.7966664774136267, 0.2223810344533745],
  [0.9602898564975363, 0.1012285362903763],
] as const;

/** Mean of a function of the latitude between two latitudes in degrees. */
function meanBetween(lat1: number, lat2: number, f: (latDeg: number) => number): number {
  const mid = (lat1 + lat2) / 2;
  const half = (lat2 - lat1) / 2;
  let sum = 0;
  for (const [x, w] of GAUSS) sum += w * (f(mid - half * x) + f(mid + half * x));
  return sum / 2;
}

/** Metres along the meridian from one latitude to another, north positive. */
function meridianDistance(lat1: number, lat2: number): number {
  // The rule's error grows with the 16th power of the step; 15° leaves it under a micrometre.
  const steps = Math.max(1, Math.ceil(Math.abs(lat2 - lat1) / 15));
  const step = (lat2 - lat1) / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += meanBetween(lat1 + i * step, lat1 + (i + 1) * step, meridianRadius);
  return sum * step * DEG;
}

function isometricLatitude(latDeg: number): number {
  const s = Math.sin(latDeg * DEG);
  return Math.asinh(Math.tan(latDeg * DEG)) - E * Math.atanh(E * s);
}

/** Radians of isometric latitude from one latitude to another. */
function isometricDifference(lat1: number, lat2: number): number {
  // Differences of near-equal values would lose figures; means lose them only where the function bends, near a pole.
  if (Math.abs(lat2 - lat1) > 1 || Math.max(Math.abs(lat1), Math.abs(lat2)) > 89)
    return isometricLatitude(lat2) - isometricLatitude(lat1);
  return (lat2 - lat1) * DEG * meanBetween(lat1, lat2, (lat) => meridianRadius(lat) / parallelRadius(lat));
}

/** Metres on the ground for one radian of longitude on the way between two latitudes. */
function metresPerRadian(lat1: number, lat2: number): number {
  const psi = isometricDifference(lat1, lat2);
  return Math.abs(lat2 - lat1) > 1 && psi !== 0
    ? meridianDistance(lat1, lat2) / psi
    : meanBetween(lat1, lat2, meridianRadius) /
        meanBetween(lat1, lat2, (lat) => meridianRadius(lat) / parallelRadius(lat));
}

export interface RhumbInverse {
  readonly distanceM: number;
  /** The one true bearing kept all the way; 0 when the ends coincide. */
  readonly bearing: TrueBearing;
}

/**
 * The shorter rhumb line from one position to another.
 * @throws Fault "bad-argument" for a position that is none
 */
export function rhumbInverse(from: LonLat, to: LonLat): RhumbInverse {
  const [lon1, lat1] = checkLonLat(from);
  const [lon2, lat2] = checkLonLat(to);
  const dLon = normalise180(lon2 - lon1) * DEG;
  const bearing = Math.atan2(dLon, isometricDifference(lat1, lat2)) / DEG;
  const north = meridianDistance(lat1, lat2);
  return { distanceM: Math.hypot(dLon * metresPerRadian(lat1, lat2), north), bearing: trueBearing(bearing) };
}

/**
 * The position reached by keeping a true bearing for a distance in metres.
 * @throws Fault "bad-argument" for a position that is none or a figure that is not finite, "out-of-range" when the
 *   line meets a pole first
 */
export function rhumbDirect(from: LonLat, bearing: TrueBearing, distanceM: number): LonLat {
  const [lon1, lat1] = checkLonLat(from);
  if (!Number.isFinite(bearing) || !Number.isFinite(distanceM))
    throw new Fault("bad-argument", "A bearing and a distance must be numbers.");
  const north = distanceM * Math.cos(bearing * DEG);
  const lat2 = latitudeAfter(lat1, north);
  if (Math.abs(lat2) > 90)
    throw new Fault("out-of-range", `A line of one bearing meets the pole before ${distanceM} m.`);
  const east = distanceM * Math.sin(bearing * DEG);
  const lon = lon1 + east / metresPerRadian(lat1, lat2) / DEG;
  return [lon === 180 ? lon : normalise180(lon), lat2];
}

/** The latitude some metres north on the meridian; beyond ±90 past a pole. */
function latitudeAfter(latDeg: number, northM: number): number {
  let lat = latDeg + northM / meridianRadius(latDeg) / DEG;
  // Newton's steps square the error: from a first guess within 1 % five reach the last figure at any distance.
  for (let i = 0; i < 8; i++) {
    const miss = northM - meridianDistance(latDeg, lat);
    lat += miss / meridianRadius(lat) / DEG;
    if (Math.abs(miss) < 1e-9) break;
  }
  return lat;
}

/**
 * How far the line of one true bearing between two positions strays from the straight leg (the geodesic), metres,
 * right of the leg positive. On a leg of 5 km at 50° it is about half a metre when walking east or west.
 * @throws Fault "bad-argument" for a position that is none
 */
export function rhumbOffsetM(from: LonLat, to: LonLat): number {
  const frame = legFrame(from, to);
  const { bearing, distanceM } = rhumbInverse(from, to);
  let worst = 0;
  for (const share of [0.25, 0.5, 0.75]) {
    const [, t] = frame.toFrame(rhumbDirect(from, bearing, distanceM * share));
    if (Math.abs(t) > Math.abs(worst)) worst = t;
  }
  return worst;
}
