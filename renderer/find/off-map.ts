/** Whether a place lies beyond the map, and how far. */
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { Bbox, LonLat } from "../../core/units/position.ts";

export const SIDES = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;
export type Side = (typeof SIDES)[number];

export interface OffMap {
  /** To the nearest place of the map's box, metres. */
  readonly distanceM: number;
  /** On which side of the map the place lies. */
  readonly side: Side;
}

/** Null for a place on the map. */
export function offMap(lonLat: LonLat, [west, south, east, north]: Bbox): OffMap | null {
  const [lon, lat] = lonLat;
  // Measured the short way round: a map of Alaska is no 330° from a place in Kamchatka.
  const turn = lon < west - 180 ? 360 : lon > east + 180 ? -360 : 0;
  const at = lon + turn;
  const edge: LonLat = [Math.min(Math.max(at, west), east), Math.min(Math.max(lat, south), north)];
  if (edge[0] === at && edge[1] === lat) return null;
  const { distanceM, bearing } = inverse(edge, lonLat);
  return { distanceM, side: SIDES[Math.round(bearing / 45) % 8] as Side };
}
