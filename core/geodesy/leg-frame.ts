/**
 * A flat frame laid along a leg: s metres along it from its start, t metres to the right of it.
 * Everything near a leg is measured in this frame, where the leg is a straight line on t = 0.
 *
 * Ellipsoidal transverse Mercator on WGS 84 about the middle of the leg, series in the difference of longitude,
 * then turned and scaled by under 1e-5 so that the leg runs from (0, 0) to (length, 0) exactly.
 * Source: J. P. Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395 (1987), eqs. 8-9 and 8-10,
 * without the terms of fifth order, which stay under 1 mm within 50 km.
 */
import { DEG, normalise180, type TrueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { direct, inverse } from "./geodesic.ts";

const A = 6_378_137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
const EP2 = E2 / (1 - E2);

export interface LegFrame {
  readonly from: LonLat;
  readonly to: LonLat;
  /** Geodesic length of the leg, metres. */
  readonly lengthM: number;
  /** Bearing at the start; null when start and end coincide. */
  readonly bearing: TrueBearing | null;
  /**
   * Longitude and latitude pairs into s, t pairs.
   * @param lonLat at least 2·count numbers from `start` on
   * @param out receives 2·count numbers from 0 on; may not be `lonLat`
   */
  project(lonLat: ArrayLike<number>, start: number, count: number, out: Float64Array): void;
  /** One position into s, t. */
  toFrame(position: LonLat): readonly [sM: number, tM: number];
  /** s, t back into a position (within a micrometre of the inverse of `toFrame`). */
  toLonLat(sM: number, tM: number): LonLat;
}

/** Degrees hold a place to a few nanometres: below a millimetre that shows in the ratio of two lengths. */
const ROUNDING_M = 0.001;

/**
 * The frame of the leg between two positions: a leg of 5 km stays within 0.03 mm, one of 50 km within 3 cm of the
 * geodesic in length and straightness, up to 88° of latitude. Nearer to a pole the series in the difference of
 * longitude fails, within 3 km of it by metres; vector tiles end at 85°.
 * Start and end may coincide: the frame then lies along north.
 * @throws Fault "bad-argument" for a position that is none
 */
export function legFrame(from: LonLat, to: LonLat): LegFrame {
  const line = inverse(from, to);
  const lengthM = line.distanceM;
  const [lon0, lat0] = direct(from, line.bearing, lengthM / 2);

  const sin0 = Math.sin(lat0 * DEG);
  const cos0 = Math.cos(lat0 * DEG);
  const w0 = 1 - E2 * sin0 * sin0;
  // Taylor series of the meridian's radius of curvature about the middle latitude.
  const rho0 = (A * (1 - E2)) / (w0 * Math.sqrt(w0));
  const rho1 = (3 * rho0 * E2 * sin0 * cos0) / w0;
  const rho2 =
    (1.5 * rho0 * E2 * (cos0 * cos0 - sin0 * sin0)) / w0 +
    (7.5 * rho0 * E2 * E2 * sin0 * sin0 * cos0 * cos0) / (w0 * w0);

  // East and north of the middle, metres, written into x and y: no allocation per vertex.
  let x = 0;
  let y = 0;
  const plane = (lon: number, lat: number): void => {
    let dLon = lon - lon0;
    if (dLon > 180 || dLon < -180) dLon = normalise180(dLon);
    const d = (lat - lat0) * DEG;
    const l = dLon * DEG;
    // Sine and cosine by series: within 50 km d stays under 0.008, and d⁵/120 under 1e-12.
    const d2 = d * d;
    const sd = d * (1 - d2 / 6);
    const cd = 1 - d2 / 2 + (d2 * d2) / 24;
    const s = sin0 * cd + cos0 * sd;
    const c = cos0 * cd - sin0 * sd;
    const n = A / Math.sqrt(1 - E2 * s * s);
    const lc = l * c;
    x = n * lc * (1 + (lc * lc * (1 - (s * s) / (c * c) + EP2 * c * c)) / 6);
    y =
      d * (rho0 + d * (rho1 / 2 + (d * rho2) / 3)) +
      (n * s * lc * l) / 2 +
      (n * s * lc * lc * lc * l * (5 - (s * s) / (c * c))) / 24;
  };

  plane(from[0], from[1]);
  const xa = x;
  const ya = y;
  plane(to[0], to[1]);
  const span = Math.hypot(x - xa, y - ya);
  // Between points as good as one, rounding would decide the scale, and a length of 0 would take every place to one.
  const scale = span > 0 && lengthM > ROUNDING_M ? lengthM / span : 1;
  const aligned = span > 0 && lengthM > 0;
  const ux = aligned ? ((x - xa) / span) * scale : 0;
  const uy = aligned ? ((y - ya) / span) * scale : 1;

  const toFrame = ([lon, lat]: LonLat): readonly [number, number] => {
    plane(lon, lat);
    const dx = x - xa;
    const dy = y - ya;
    return [dx * ux + dy * uy, dx * uy - dy * ux];
  };

  return {
    from,
    to,
    lengthM,
    bearing: lengthM > 0 ? line.bearing : null,
    toFrame,
    project(lonLat, start, count, out) {
      for (let i = 0; i < count; i++) {
        plane(lonLat[start + 2 * i] as number, lonLat[start + 2 * i + 1] as number);
        const dx = x - xa;
        const dy = y - ya;
        out[2 * i] = dx * ux + dy * uy;
        out[2 * i + 1] = dx * uy - dy * ux;
      }
    },
    toLonLat(sM, tM) {
      // Unturn and unscale, then Newton steps with the sphere-like Jacobian: it gains three digits a step or more.
      const k2 = scale * scale;
      const ex = xa + (sM * ux + tM * uy) / k2;
      const ny = ya + (sM * uy - tM * ux) / k2;
      const n0 = A / Math.sqrt(w0);
      let lat = lat0 + ny / rho0 / DEG;
      let lon = lon0 + ex / (n0 * cos0) / DEG;
      for (let i = 0; i < 6; i++) {
        plane(lon, lat);
        const ex1 = ex - x;
        const ny1 = ny - y;
        if (Math.abs(ex1) < 1e-7 && Math.abs(ny1) < 1e-7) break;
        lon += ex1 / (n0 * Math.cos(lat * DEG)) / DEG;
        lat += ny1 / rho0 / DEG;
      }
      return [lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon, lat];
    },
  };
}
