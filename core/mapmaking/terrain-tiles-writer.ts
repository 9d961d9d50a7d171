/**
 * Heights as terrain tiles: PNG pictures of 512 by 512 pixels whose colours are heights,
 * height = red · 256 + green + blue / 256 − 32768 metres (the "terrarium" encoding).
 *
 * Pixel (i, j) of tile (x, y) is the model's bilinear height at the pixel's centre, world ((x + (i + 0.5) / 512) / 2^zoom, …). The encoding has no word for "no height": black (0, 0, 0),
 * which reads −32768 m, stands for a void, and a reader has to give none wherever a black pixel takes part.
 */
import type { Codecs } from "./codecs.ts";
import { type Placement, worldX, worldY } from "./elevation/grid-placement.ts";
import type { HeightSource } from "./height-source.ts";
import type { TileBlock } from "./line-cutter.ts";
import { pngOfRows } from "./png-rgb.ts";
import { sampleSquare, TERRAIN_TILE, windowUnder } from "./terrain-samples.ts";
import type { TerrainPlan } from "./terrain-zoom.ts";
import type { FinishedTile } from "./tile-pack.ts";

/** Number of the filter that writes each row as its difference from the one above. */
const UP = 2;
/** How far below 0 m the encoding's zero lies, metres. */
const ZERO_M = 32768;

/** Heights as red, green, blue bytes, rounded to a multiple of `quantumM`; black where there is none. */
export function terrainPixels(heights: Float32Array, quantumM: number): Uint8Array {
  const pixels = new Uint8Array(heights.length * 3);
  for (let i = 0; i < heights.length; i++) {
    const h = heights[i]!;
    if (h !== h) continue;
    const v = Math.round(h / quantumM) * quantumM + 32768;
    const metres = Math.floor(v);
    pixels[3 * i] = metres >> 8;
    pixels[3 * i + 1] = metres & 255;
    pixels[3 * i + 2] = (v - metres) * 256;
  }
  return pixels;
}

const HALF = TERRAIN_TILE / 2;

/** The mean of each four pixels, of those that have a height. */
function shrunk(tile: Float32Array): Float32Array {
  const out = new Float32Array(HALF * HALF);
  for (let j = 0; j < HALF; j++)
    for (let i = 0; i < HALF; i++) {
      const at = 2 * j * TERRAIN_TILE + 2 * i;
      const a = tile[at]!;
      const b = tile[at + 1]!;
      const c = tile[at + TERRAIN_TILE]!;
      const d = tile[at + TERRAIN_TILE + 1]!;
      let mean = (a + b + c + d) / 4;
      if (mean !== mean) {
        const known = [a, b, c, d].filter((h) => h === h);
        mean = known.reduce((sum, h) => sum + h, 0) / known.length;
      }
      out[j * HALF + i] = mean;
    }
  return out;
}

function putQuarter(tile: Float32Array, quarter: Float32Array, right: number, bottom: number): void {
  for (let j = 0; j < HALF; j++)
    tile.set(quarter.subarray(j * HALF, (j + 1) * HALF), (j + bottom * HALF) * TERRAIN_TILE + right * HALF);
}

/** Rows of a picture whose pixels are the heights' colours, each filtered as its difference from the row above. */
export function terrainRows(heights: Float32Array, quantumM: number, rows: Uint8Array): void {
  const size = TERRAIN_TILE;
  const perM = 1 / quantumM;
  const finest = 256 / perM;
  const above = new Int32Array(size);
  let at = 0;
  for (let j = 0; j < size; j++) {
    rows[at++] = UP;
    const from = j * size;
    for (let i = 0; i < size; i++) {
      // Above the encoding's zero every number is positive: cutting off after adding a half is rounding. NaN gives 0, black.
      const v = (((heights[from + i]! + ZERO_M) * perM + 0.5) | 0) * finest;
      const u = above[i]!;
      above[i] = v;
      rows[at] = (v >> 16) - (u >> 16);
      rows[at + 1] = (v >> 8) - (u >> 8);
      rows[at + 2] = v - u;
      at += 3;
    }
  }
}

/** Heights of one tile as a picture. */
export function terrainPicture(heights: Float32Array, quantumM: number, codecs: Codecs): Uint8Array {
  const rows = new Uint8Array((TERRAIN_TILE * 3 + 1) * TERRAIN_TILE);
  terrainRows(heights, quantumM, rows);
  return pngOfRows(rows, TERRAIN_TILE, TERRAIN_TILE, codecs);
}

/** The tiles of a zoom that a model lies in. */
export function terrainRange({ bounds }: Placement, zoom: number): TileBlock {
  const [west, south, east, north] = bounds;
  const tile = (world: number): number => Math.floor(world * 2 ** zoom);
  return {
    zoom,
    x0: tile(worldX(west)),
    y0: tile(worldY(north)),
    x1: tile(worldX(east)),
    y1: tile(worldY(south)),
  };
}

export interface TerrainBlock {
  readonly tiles: readonly FinishedTile[];
  /** Means of the block's top tile, half its size each way, for the tile above; null when there is nothing in it. */
  readonly half: Float32Array | null;
}

/** All tiles below and including one, down to the plan's zoom. */
export function terrainBlock(
  source: HeightSource,
  placement: Placement,
  plan: Pick<TerrainPlan, "zoom" | "quantumM">,
  top: { readonly zoom: number; readonly x: number; readonly y: number },
  codecs: Codecs,
): TerrainBlock {
  const across = 2 ** (plan.zoom - top.zoom) * TERRAIN_TILE;
  const window = windowUnder(source, placement, plan.zoom, top.x * across, top.y * across, across);
  const tiles: FinishedTile[] = [];
  if (!window) return { tiles, half: null };
  const sampled = { source, window, placement };
  const scratch = Array.from({ length: plan.zoom - top.zoom + 1 }, () => new Float32Array(TERRAIN_TILE ** 2));

  // Depth first: only one tile a zoom is in memory.
  const build = (zoom: number, x: number, y: number): Float32Array | null => {
    const heights = scratch[zoom - top.zoom]!;
    let any = false;
    if (zoom === plan.zoom) {
      sampleSquare(sampled, zoom, x * TERRAIN_TILE + 0.5, y * TERRAIN_TILE + 0.5, TERRAIN_TILE, 1, heights);
      for (let i = 0; i < heights.length && !any; i++) any = !Number.isNaN(heights[i]);
    } else {
      heights.fill(Number.NaN);
      const range = terrainRange(placement, zoom + 1);
      for (let k = 0; k < 4; k++) {
        const cx = 2 * x + (k & 1);
        const cy = 2 * y + (k >> 1);
        if (cx < range.x0 || cx > range.x1 || cy < range.y0 || cy > range.y1) continue;
        const child = build(zoom + 1, cx, cy);
        if (!child) continue;
        any = true;
        putQuarter(heights, shrunk(child), k & 1, k >> 1);
      }
    }
    if (!any) return null;
    tiles.push({ zoom, x, y, bytes: terrainPicture(heights, plan.quantumM, codecs) });
    return heights;
  };
  const heights = build(top.zoom, top.x, top.y);
  return { tiles, half: heights && shrunk(heights) };
}

export interface TerrainAbove {
  /** Takes a block's half, or that there is nothing in it. Every block of the model's range is to be told once. */
  add(x: number, y: number, half: Float32Array | null): void;
}

/**
 * Tiles above blocks, from the halves of the blocks' top tiles, down to `minZoom`; for shading only. A tile is made as
 * soon as the last of those below it has come, so that, with blocks in the order of tile ids, few are in the making.
 */
export function terrainAbove(
  placement: Placement,
  blockZoom: number,
  minZoom: number,
  quantumM: number,
  codecs: Codecs,
  take: (tile: FinishedTile) => void,
): TerrainAbove {
  interface Growing {
    heights: Float32Array | null;
    missing: number;
  }
  const growing = new Map<string, Growing>();
  const add = (zoom: number, x: number, y: number, half: Float32Array | null): void => {
    if (zoom <= minZoom) return;
    const [px, py] = [x >> 1, y >> 1];
    const key = `${zoom - 1}/${px}/${py}`;
    let tile = growing.get(key);
    if (!tile) {
      const { x0, y0, x1, y1 } = terrainRange(placement, zoom);
      const across = Math.min(x1, 2 * px + 1) - Math.max(x0, 2 * px) + 1;
      const down = Math.min(y1, 2 * py + 1) - Math.max(y0, 2 * py) + 1;
      growing.set(key, (tile = { heights: null, missing: across * down }));
    }
    if (half) {
      tile.heights ??= new Float32Array(TERRAIN_TILE ** 2).fill(Number.NaN);
      putQuarter(tile.heights, half, x & 1, y & 1);
    }
    if (--tile.missing > 0) return;
    growing.delete(key);
    const { heights } = tile;
    if (heights) take({ zoom: zoom - 1, x: px, y: py, bytes: terrainPicture(heights, quantumM, codecs) });
    add(zoom - 1, px, py, heights && shrunk(heights));
  };
  return { add: (x, y, half) => add(blockZoom, x, y, half) };
}
