/** The walk as short straight pieces, each with its leg and the zone whose grid its sheet is drawn in. */
import { parallelRadius } from "../../geodesy/ellipsoid.ts";
import { direct, inverse } from "../../geodesy/geodesic.ts";
import type { Projection } from "../../geodesy/projection.ts";
import { centralMeridian, type UtmZone, utmZoneOf } from "../../geodesy/utm-zone.ts";
import { utmProjection } from "../../geodesy/utm.ts";
import { DEG, normalise180 } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";

export interface PathPiece {
  /** Counted from 1. */
  readonly leg: number;
  readonly from: LonLat;
  readonly to: LonLat;
}

/** Over so many metres a leg is straight on any sheet: it leaves the line on paper by less than a metre. */
const PIECE_M = 5000;
const MOST_PIECES = 400;

/** The legs in order of walking, cut along their geodesics. Legs without length give one piece without length. */
export function walkPath(points: readonly LonLat[]): PathPiece[] {
  const path: PathPiece[] = [];
  for (let leg = 1; leg < points.length; leg++) {
    const [start, end] = [points[leg - 1] as LonLat, points[leg] as LonLat];
    const { distanceM, bearing } = inverse(start, end);
    const count = Math.max(1, Math.min(MOST_PIECES, Math.ceil(distanceM / PIECE_M)));
    let from = start;
    for (let i = 1; i <= count; i++) {
      const to = i === count ? end : direct(start, bearing, (distanceM * i) / count);
      path.push({ leg, from, to });
      from = to;
    }
  }
  return path;
}

/** The place half-way along the walk. */
export function middleOfPath(path: readonly PathPiece[]): LonLat | null {
  const lengths = path.map(({ from, to }) => inverse(from, to).distanceM);
  let left = lengths.reduce((a, b) => a + b, 0) / 2;
  for (const [i, { from, to }] of path.entries()) {
    const length = lengths[i] as number;
    if (left <= length) return length === 0 ? from : direct(from, inverse(from, to).bearing, left);
    left -= length;
  }
  return path.at(-1)?.to ?? null;
}

/** How far beyond its edge a zone's grid is carried on for the sake of one grid for all sheets: from memory, the overlap of military maps. */
const CARRIED_M = 40_000;

/** The zone for a sheet at a place: the walk's own as far as it can be carried on. */
export function zoneFor(place: LonLat, walkZone: UtmZone): UtmZone {
  const own = utmZoneOf(place);
  if (own === walkZone || own === 0 || walkZone === 0) return own;
  const [lon, lat] = place;
  const towards = normalise180(centralMeridian(walkZone) - lon);
  const carriedDeg = CARRIED_M / parallelRadius(lat) / DEG;
  const nearer = normalise180(lon + Math.sign(towards) * Math.min(carriedDeg, Math.abs(towards)));
  return utmZoneOf([nearer, lat]) === walkZone ? walkZone : own;
}

/** Plane in which sheets of a zone are laid out: northings run on through the equator. */
export const planeOf = (zone: UtmZone, place: LonLat): Projection =>
  utmProjection(zone, zone === 0 && place[1] < 0 ? "S" : "N");
