/**
 * The tile pyramid both archives are cut by: Web Mercator, tile 0/0/0 the whole world, y counted southward.
 * Source: OGC 17-083r4, Two Dimensional Tile Matrix Set, annex D.1 "WebMercatorQuad".
 */
import { DEG } from "../units/angle.ts";
import type { Bbox } from "../units/position.ts";

/** Latitude where the square world ends: atan(sinh π). */
export const MERCATOR_MAX_LAT = Math.atan(Math.sinh(Math.PI)) / DEG;

export interface TileAddress {
  readonly z: number;
  readonly x: number;
  readonly y: number;
}

/** Tiles of one zoom, all four ends included. Empty when x1 < x0 or y1 < y0. */
export interface TileRange {
  readonly z: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Longitude as a share of the world's width, 0 at 180° W. */
export const lonToShare = (lon: number): number => lon / 360 + 0.5;
/** Latitude as a share of the world's height, 0 in the north; limited to the square world. */
export function latToShare(lat: number): number {
  const sin = Math.sin(Math.max(-MERCATOR_MAX_LAT, Math.min(MERCATOR_MAX_LAT, lat)) * DEG);
  return 0.5 - Math.log((1 + sin) / (1 - sin)) / (4 * Math.PI);
}
export const shareToLon = (share: number): number => share * 360 - 180;
export const shareToLat = (share: number): number => Math.atan(Math.sinh(Math.PI * (1 - 2 * share))) / DEG;

const clampTile = (share: number, n: number): number => Math.max(0, Math.min(n - 1, Math.floor(share * n)));

/** The tiles of a zoom that a box meets; a box that ends on a tile's edge meets the tile beyond it too. */
export function tilesMeeting(box: Bbox, z: number): TileRange {
  const n = 2 ** z;
  return {
    z,
    x0: clampTile(lonToShare(box[0]), n),
    y0: clampTile(latToShare(box[3]), n),
    x1: clampTile(lonToShare(box[2]), n),
    y1: clampTile(latToShare(box[1]), n),
  };
}

export function tileBbox({ z, x, y }: TileAddress): Bbox {
  const n = 2 ** z;
  return [shareToLon(x / n), shareToLat((y + 1) / n), shareToLon((x + 1) / n), shareToLat(y / n)];
}

export const tileCount = (r: TileRange): number =>
  Math.max(0, r.x1 - r.x0 + 1) * Math.max(0, r.y1 - r.y0 + 1);

export const inRange = (r: TileRange, x: number, y: number): boolean =>
  x >= r.x0 && x <= r.x1 && y >= r.y0 && y <= r.y1;

/** The box without what lies outside the other; null when they do not meet. */
export function intersectBbox(a: Bbox, b: Bbox): Bbox | null {
  const box: Bbox = [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.min(a[2], b[2]), Math.min(a[3], b[3])];
  return box[0] <= box[2] && box[1] <= box[3] ? box : null;
}
