/**
 * Slope of the ground over a map tile, for drawing: worked out by `slopeAt` on a lattice about as close as the model's
 * own samples, and bilinear between its places. Neighbouring tiles share the places on their common edge, so that
 * shading runs on from one to the next.
 */
import { shareToLat, shareToLon, type TileAddress, tileBbox } from "../map/tile-grid.ts";
import { parallelRadius } from "../geodesy/ellipsoid.ts";
import { DEG } from "../units/angle.ts";
import { type Bbox, growBbox } from "../units/position.ts";
import type { ElevationModel } from "./elevation.ts";
import { slopeAt } from "./slope-at.ts";

/** Ground from each of these on is a class of its own, degrees. Chosen thresholds, no source. */
export const SLOPE_CLASSES_DEG = [15, 20, 25, 30, 35, 40] as const;

export interface SlopeTile {
  /** Squares of the lattice to a side, a power of two. */
  readonly cells: number;
  /** Degrees at (cells + 1)² places, row by row from the north-west; NaN where the ground is not known. */
  readonly deg: Float32Array;
}

const MOST_CELLS = 64;
const FEWEST_CELLS = 8;
/** Slope at an edge rests on samples around it, metres. */
const AROUND_M = 100;

/** What has to be prepared for a tile. */
export const slopeTileBox = (tile: TileAddress): Bbox => growBbox(tileBbox(tile), AROUND_M);

/** Over prepared ground: see `slopeTileBox`. */
export function slopeTile(elevation: ElevationModel, tile: TileAddress): SlopeTile {
  const [west, south, east, north] = tileBbox(tile);
  const middle = (south + north) / 2;
  const widthM = (east - west) * DEG * parallelRadius(middle);
  const wanted = widthM / elevation.spacingM(middle);
  const cells = Math.min(MOST_CELLS, Math.max(FEWEST_CELLS, 2 ** Math.floor(Math.log2(wanted))));
  const n = 2 ** tile.z;
  const deg = new Float32Array((cells + 1) ** 2);
  for (let r = 0, i = 0; r <= cells; r++) {
    const lat = shareToLat((tile.y + r / cells) / n);
    for (let c = 0; c <= cells; c++, i++)
      deg[i] = slopeAt(elevation, [shareToLon((tile.x + c / cells) / n), lat])?.deg ?? Number.NaN;
  }
  return { cells, deg };
}

/**
 * Slope at a place of the tile, degrees; NaN where any of the four places around it is not known.
 * @param across share of the tile's width from its west, 0–1
 * @param down share of its height from its north, 0–1
 */
export function slopeInTile({ cells, deg }: SlopeTile, across: number, down: number): number {
  const [u, v] = [across * cells, down * cells];
  const c = Math.min(cells - 1, Math.floor(u));
  const r = Math.min(cells - 1, Math.floor(v));
  const i = r * (cells + 1) + c;
  const [nw, ne] = [deg[i] as number, deg[i + 1] as number];
  const [sw, se] = [deg[i + cells + 1] as number, deg[i + cells + 2] as number];
  const [fu, fv] = [u - c, v - r];
  return (nw + (ne - nw) * fu) * (1 - fv) + (sw + (se - sw) * fu) * fv;
}

/** How many of the thresholds a slope has reached: 0 is gentler than the first; NaN, not known, is 0 too. */
export function slopeClass(deg: number): number {
  let reached = 0;
  for (const from of SLOPE_CLASSES_DEG) if (deg >= from) reached++;
  return reached;
}
