/**
 * Heights as terrain tiles: PNG pictures of 512 by 512 pixels whose colours are heights,
 * height = red · 256 + green + blue / 256 − 32768 metres (the "terrarium" encoding).
 *
 * Pixel (i, j) of tile (x, y) is the model's bilinear height at the pixel's centre, world ((x + (i + 0.5) / 512) / 2^zoom, …). The encoding has no word for "no height": black (0, 0, 0),
 * which reads −32768 m, stands for a void, and a reader has to give none wherever a black pixel takes part.
 */
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import { type Placement, worldX, worldY } from "./elevation/grid-placement.ts";
import type { Pace } from "./pace.ts";
import type { PmtilesWriter } from "./pmtiles-writer.ts";
import { encodePng } from "./png-rgb.ts";
import { sampleSquare, TERRAIN_TILE } from "./terrain-samples.ts";

export interface TerrainOptions {
  readonly minZoom: number;
  readonly maxZoom: number;
  /** Heights are rounded to this, metres: a power of two down to 1/256. */
  readonly quantumM: number;
}

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
      const tile = sampleSquare(
        grid,
        placement,
        zoom,
        x * TERRAIN_TILE + 0.5,
        y * TERRAIN_TILE + 0.5,
        TERRAIN_TILE,
        1,
      );
      heights = tile.some((h) => !Number.isNaN(h)) ? tile : null;
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
      writer.add(zoom, x, y, encodePng(terrainPixels(heights, quantumM), TERRAIN_TILE, TERRAIN_TILE));
      written++;
    }
    return heights;
  };
  const [x0, y0, x1, y1] = range(minZoom);
  for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) await build(minZoom, x, y);
  return written;
}
