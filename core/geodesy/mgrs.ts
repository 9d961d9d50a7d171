/**
 * Military Grid Reference System on WGS 84; the United States National Grid is the same on land.
 * Source: NGA.STND.0037, lettering of WGS 84 ("AA" scheme); FGDC-STD-011-2001.
 */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { toUtm, type UtmPosition } from "./utm.ts";
import { bandOf } from "./utm-zone.ts";

export const SQUARE_M = 100_000;
/** Column letters of zones 3n+1, 3n+2, 3n+3, from easting 100 km on. */
export const UTM_COLUMNS = ["ABCDEFGH", "JKLMNPQR", "STUVWXYZ"] as const;
/** Row letters, repeating every 2000 km; even zones start five letters on. */
export const UTM_ROWS = "ABCDEFGHJKLMNPQRSTUV";
/** UPS: west of the pole and east of it; the first column and row lie at `UPS_MIN` squares of 100 km. */
export const UPS_COLUMNS = { A: "JKLPQRSTUXYZ", B: "ABCFGHJKLPQR", Y: "RSTUXYZ", Z: "ABCFGHJ" } as const;
export const UPS_ROWS = { N: "ABCDEFGHJKLMNP", S: "ABCDEFGHJKLMNPQRSTUVWXYZ" } as const;
export const UPS_MIN = { N: 13, S: 8 } as const;
export const UPS_POLE = 20;

/** Side of the square a reference names, metres: 1 m is ten digits, 100 km none. */
export type MgrsPrecision = 1 | 10 | 100 | 1000 | 10_000 | 100_000;

function squareOf(at: UtmPosition, latDeg: number): string {
  const column = Math.floor(at.eastingM / SQUARE_M);
  const row = Math.floor(at.northingM / SQUARE_M);
  if (at.zone === 0) {
    const east = column >= UPS_POLE;
    const area = at.hemisphere === "N" ? (east ? "Z" : "Y") : east ? "B" : "A";
    const min = UPS_MIN[at.hemisphere];
    return (
      area +
      UPS_COLUMNS[area].charAt(column - (east ? UPS_POLE : min)) +
      UPS_ROWS[at.hemisphere].charAt(row - min)
    );
  }
  const columns = UTM_COLUMNS[((at.zone - 1) % 3) as 0 | 1 | 2];
  const zone = String(at.zone).padStart(2, "0");
  return (
    zone +
    bandOf(latDeg) +
    columns.charAt(column - 1) +
    UTM_ROWS.charAt((row + (at.zone % 2 === 0 ? 5 : 0)) % 20)
  );
}

/**
 * The reference of the square a position lies in, without spaces: digits are cut off, never rounded, so that the
 * square does contain the position. Zones 1 to 9 have a leading zero; UPS references have no zone.
 * @param precisionM side of the square, metres
 * @throws Fault "bad-argument" for a position that is none or a precision that is not a power of ten up to 100 km
 */
export function formatMgrs(lonLat: LonLat, precisionM: MgrsPrecision = 1): string {
  const digits = 5 - Math.log10(precisionM);
  if (!Number.isInteger(digits) || digits < 0 || digits > 5)
    throw new Fault(
      "bad-argument",
      `A grid reference has no precision of ${precisionM} m.`,
      null,
      "Use 1, 10, 100, 1000, 10000 or 100000.",
    );
  const utm = toUtm(lonLat);
  // To the micrometre first: a projected 499999.9999999999 means 500000 and must not fall into the square beside.
  const settle = (m: number): number => Math.round(m * 1e6) / 1e6;
  let northingM = settle(utm.northingM);
  // Less than a micrometre south of the equator: still in the southern square.
  if (utm.zone > 0 && utm.hemisphere === "S") northingM = Math.min(northingM, 9_999_999.999_999);
  const at = { ...utm, eastingM: settle(utm.eastingM), northingM };
  const cut = (m: number): string =>
    String(Math.floor(m % SQUARE_M))
      .padStart(5, "0")
      .slice(0, digits);
  return squareOf(at, lonLat[1]) + cut(at.eastingM) + cut(at.northingM);
}

/** A reference with spaces between zone, square, easting and northing: "32T MT 65403 47150". */
export function spaceMgrs(reference: string): string {
  const parts = /^(\d\d[A-Z]|[ABYZ])([A-Z]{2})(\d*)$/.exec(reference);
  if (!parts) return reference;
  const [, zone = "", square = "", figures = ""] = parts;
  const half = figures.length / 2;
  return [zone, square, figures.slice(0, half), figures.slice(half)].filter(Boolean).join(" ");
}
