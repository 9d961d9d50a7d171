/**
 * Heights as terrain tiles: PNG pictures of 512 by 512 pixels whose colours are heights,
 * height = red · 256 + green + blue / 256 − 32768 metres (the "terrarium" encoding).
 *
 * Pixel (i, j) of tile (x, y) is the height at the pixel's centre, world ((x + (i + 0.5) / 512) / 2^zoom, …), taken
 * from the model by bilinear interpolation. The encoding has no word for "no height": black (0, 0, 0), which reads
 * −32768 m, stands for a void, and a reader has to give none wherever a black pixel takes part.
 */
import type { ElevationGrid } from "./elevation-grid.ts";
import { latOf, lonOf, type Placement, worldX, worldY } from "./grid-placement.ts";
import type { Pace } from "./pace.ts";
import type { PmtilesWriter } from "./pmtiles-writer.ts";
import { encodePng } from "./png-rgb.ts";

export const TERRAIN_TILE = 512;
/** Metres round the equator of the sphere that web map tiles are drawn on. */
const AROUND_M = 2 * Math.PI * 6_378_137;

export interface TerrainOptions {
  readonly minZoom: number;
  readonly maxZoom: number;
  /** Heights are rounded to this, metres: a power of two down to 1/256. */
  readonly quantumM: number;
}

/** Pixel spacing on the ground, metres. */
export const pixelM = (zoom: number, latDeg: number): number =>
  (AROUND_M * Math.cos((latDeg * Math.PI) / 180)) / (TERRAIN_TILE * 2 ** zoom);

/** Bilinear height in the grid; half a cell beyond the outer samples takes the nearest, as a cell's height stands for all of it. */
export function heightAt({ columns, rows, heights }: ElevationGrid, column: number, row: number): number {
  if (!(column >= -0.5 && row >= -0.5 && column <= columns - 0.5 && row <= rows - 0.5)) return Number.NaN;
  const u = Math.min(columns - 1, Math.max(0, column));
  const v = Math.min(rows - 1, Math.max(0, row));
  const c = Math.min(columns - 2, Math.floor(u));
  const r = Math.min(rows - 2, Math.floor(v));
  const fu = u - c;
  const fv = v - r;
  const at = r * columns + c;
  const a = heights[at]!;
  const b = heights[at + 1]!;
  const d = heights[at + columns]!;
  const e = heights[at + columns + 1]!;
  return (a * (1 - fu) + b * fu) * (1 - fv) + (d * (1 - fu) + e * fu) * fv;
}

/** Pixels between places where the projection is worked out; between them it is taken as bilinear. */
const MESH = 32;

function sampleTile(
  grid: ElevationGrid,
  placement: Placement,
  zoom: number,
  x: number,
  y: number,
): Float32Array | null {
  const span = 2 ** zoom;
  const nodes = TERRAIN_TILE / MESH + 1;
  const columns = new Float64Array(nodes * nodes);
  const rows = new Float64Array(nodes * nodes);
  for (let j = 0; j < nodes; j++)
    for (let i = 0; i < nodes; i++) {
      const at = placement.toGrid([
        lonOf((x + (i * MESH) / TERRAIN_TILE) / span),
        latOf((y + (j * MESH) / TERRAIN_TILE) / span),
      ]);
      columns[j * nodes + i] = at[0];
      rows[j * nodes + i] = at[1];
    }
  const out = new Float32Array(TERRAIN_TILE * TERRAIN_TILE);
  let known = false;
  for (let py = 0; py < TERRAIN_TILE; py++) {
    const v = (py + 0.5) / MESH;
    const j = Math.floor(v);
    const fv = v - j;
    for (let px = 0; px < TERRAIN_TILE; px++) {
      const u = (px + 0.5) / MESH;
      const i = Math.floor(u);
      const fu = u - i;
      const n = j * nodes + i;
      const mix = (a: Float64Array): number =>
        (a[n]! * (1 - fu) + a[n + 1]! * fu) * (1 - fv) +
        (a[n + nodes]! * (1 - fu) + a[n + nodes + 1]! * fu) * fv;
      const h = heightAt(grid, mix(columns), mix(rows));
      out[py * TERRAIN_TILE + px] = h;
      known ||= h === h;
    }
  }
  return known ? out : null;
}

function picture(heights: Float32Array, quantumM: number): Uint8Array {
  const pixels = new Uint8Array(heights.length * 3);
  for (let i = 0; i < heights.length; i++) {
    const h = heights[i]!;
    if (h !== h) continue;
    const v = Math.round(h / quantumM) * quantumM + 32768;
    pixels[3 * i] = v >> 8;
    pixels[3 * i + 1] = v;
    pixels[3 * i + 2] = (v - Math.floor(v)) * 256;
  }
  return encodePng(pixels, TERRAIN_TILE, TERRAIN_TILE);
}

/** Puts the mean of each four pixels of a tile into its quarter of the tile above. */
function shrinkInto(parent: Float32Array, child: Float32Array, right: number, bottom: number): void {
  const half = TERRAIN_TILE / 2;
  for (let j = 0; j < half; j++)
    for (let i = 0; i < half; i++) {
      const at = 2 * j * TERRAIN_TILE + 2 * i;
      let sum = 0;
      let n = 0;
      for (const k of [at, at + 1, at + TERRAIN_TILE, at + TERRAIN_TILE + 1]) {
        const h = child[k]!;
        if (h === h) {
          sum += h;
          n++;
        }
      }
      parent[(j + bottom * half) * TERRAIN_TILE + i + right * half] = n > 0 ? sum / n : Number.NaN;
    }
}

/**
 * Writes the tiles of all zooms; those below the highest are means of the ones below them, for shading only.
 * @throws Fault "cancelled"
 */
export async function writeTerrainTiles(
  grid: ElevationGrid,
  placement: Placement,
  { minZoom, maxZoom, quantumM }: TerrainOptions,
  writer: PmtilesWriter,
  pace: Pace,
): Promise<number> {
  const [west, south, east, north] = placement.bounds;
  const range = (zoom: number): readonly [number, number, number, number] => {
    const span = 2 ** zoom;
    return [worldX(west) * span, worldY(north) * span, worldX(east) * span, worldY(south) * span].map(
      Math.floor,
    ) as unknown as readonly [number, number, number, number];
  };
  const [ax, ay, bx, by] = range(maxZoom);
  const total = (bx - ax + 1) * (by - ay + 1);
  let sampled = 0;
  let written = 0;

  // Depth first: only one tile a zoom and its four children are in memory.
  const build = async (zoom: number, x: number, y: number): Promise<Float32Array | null> => {
    const [x0, y0, x1, y1] = range(zoom);
    if (x < x0 || x > x1 || y < y0 || y > y1) return null;
    let heights: Float32Array | null = null;
    if (zoom === maxZoom) {
      heights = sampleTile(grid, placement, zoom, x, y);
      await pace.step(++sampled / total);
    } else
      for (const [right, bottom] of [
        [0, 0],
        [1, 0],
        [0, 1],
        [1, 1],
      ] as const) {
        const child = await build(zoom + 1, 2 * x + right, 2 * y + bottom);
        if (!child) continue;
        heights ??= new Float32Array(TERRAIN_TILE * TERRAIN_TILE).fill(Number.NaN);
        shrinkInto(heights, child, right, bottom);
      }
    if (heights) {
      writer.add(zoom, x, y, picture(heights, quantumM));
      written++;
    }
    return heights;
  };
  const [x0, y0, x1, y1] = range(minZoom);
  for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) await build(minZoom, x, y);
  return written;
}
