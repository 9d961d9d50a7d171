/**
 * Which UTM zone and which MGRS band a place lies in.
 * Source: NGA.STND.0037 (Universal Grids and Grid Reference Systems), with the wider zones of south-west Norway
 * and of Svalbard.
 */
import { type LonLat, checkLonLat } from "../units/position.ts";

/** UTM zone 1–60, or 0 for the polar grid UPS, which takes over from 84° N and south of 80° S. */
export type UtmZone = number;

/** Bands of 8° from 80° S on; the last, X, has 12°. */
export const BANDS = "CDEFGHJKLMNPQRSTUVWX";

export function centralMeridian(zone: UtmZone): number {
  return zone * 6 - 183;
}

/**
 * The zone of a place. A zone's edge belongs to the zone on its east; −180° and 180° are both zone 1.
 * @throws Fault "bad-argument" for a position that is none
 */
export function utmZoneOf(lonLat: LonLat): UtmZone {
  const [lon, lat] = checkLonLat(lonLat);
  if (lat >= 84 || lat < -80) return 0;
  const east = lon === 180 ? -180 : lon;
  // The sum may round 179.99999999999997 up to the end of the circle.
  const zone = Math.min(60, Math.floor((east + 180) / 6) + 1);
  if (zone === 31 && lat >= 56 && lat < 64 && lon >= 3) return 32;
  if (lat >= 72 && lon >= 0 && lon < 42) return lon < 9 ? 31 : lon < 21 ? 33 : lon < 33 ? 35 : 37;
  return zone;
}

/** The MGRS band of a latitude from 80° S up to, but not at, 84° N. */
export function bandOf(latDeg: number): string {
  const band = Math.floor(latDeg / 8) + 10;
  // A latitude below nought by less than the division can show is still in the south.
  return BANDS.charAt(Math.max(0, Math.min(latDeg < 0 ? 9 : BANDS.length - 1, band)));
}
