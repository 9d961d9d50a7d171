/**
 * Heights on an even grid around an area, read from an elevation model once and kept.
 * The grid's places are the same wherever an area begins, so that neighbouring areas share what has been read.
 */
import { meridianRadius, parallelRadius } from "../../geodesy/ellipsoid.ts";
import { DEG } from "../../units/angle.ts";
import type { Bbox, LonLat } from "../../units/position.ts";
import type { ElevationModel } from "../elevation.ts";

export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  /** Metres, row by row from the north-west; NaN where unknown. */
  readonly heights: Float32Array;
  /** From a column to the next eastern one and from a row to the next southern one, metres. */
  readonly eastM: number;
  readonly southM: number;
  toLonLat(column: number, row: number): LonLat;
  /** Column and row of a place; whole numbers are samples. */
  toGrid(lonLat: LonLat): readonly [column: number, row: number];
}

/** Samples are read by blocks of this many columns and rows. */
const BLOCK = 32;
/** 4 KB each. */
const BLOCKS_KEPT = 2048;
/** About 4.5 km square at 20 m: what can be looked through in some tens of milliseconds. */
const MOST_SAMPLES = 50_000;
const LEAST_STEP_M = 15;
const MOST_STEP_M = 60;

const kept = new WeakMap<ElevationModel, Map<string, Float32Array>>();

/** Which blocks of the grid cover a box, as a key, and what of them has not been prepared. */
export interface GridPlan {
  readonly key: string;
  readonly stepM: number;
  /** Middle latitude of the band the grid's columns are spaced for. */
  readonly band: number;
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

function degrees(stepM: number, band: number): readonly [dLon: number, dLat: number] {
  return [stepM / (parallelRadius(band) * DEG), stepM / (meridianRadius(band) * DEG)];
}

/** The grid for a box: twice the spacing of the samples, coarser for large boxes so that its cost is bounded. */
export function planGrid(elevation: ElevationModel, box: Bbox): GridPlan {
  const band = Math.max(-85, Math.min(85, Math.round(box[1] + box[3]) / 2));
  let stepM = Math.max(LEAST_STEP_M, Math.min(MOST_STEP_M, 2 * elevation.spacingM(band)));
  for (;;) {
    const [dLon, dLat] = degrees(stepM, band);
    const block = (degree: number, step: number): number => Math.floor(degree / (step * BLOCK));
    const [x0, x1] = [block(box[0], dLon), block(box[2], dLon)];
    const [y0, y1] = [block(box[1], dLat), block(box[3], dLat)];
    if ((x1 - x0 + 1) * (y1 - y0 + 1) * BLOCK * BLOCK <= MOST_SAMPLES || x1 - x0 + y1 - y0 < 2)
      return { key: [stepM, band, x0, y0, x1, y1].join(" "), stepM, band, x0, y0, x1, y1 };
    stepM *= 2;
  }
}

/**
 * Reads the heights of a plan.
 * @returns whole: whether everything had been prepared; when not, the same plan may give more another time
 */
export function readGrid(elevation: ElevationModel, plan: GridPlan): { grid: HeightGrid; whole: boolean } {
  const { stepM, band, x0, y0, x1, y1 } = plan;
  const [dLon, dLat] = degrees(stepM, band);
  const columns = (x1 - x0 + 1) * BLOCK;
  const rows = (y1 - y0 + 1) * BLOCK;
  const heights = new Float32Array(columns * rows);
  let blocks = kept.get(elevation);
  if (!blocks) kept.set(elevation, (blocks = new Map()));
  let whole = true;
  for (let by = y0; by <= y1; by++)
    for (let bx = x0; bx <= x1; bx++) {
      const key = `${stepM} ${band} ${bx} ${by}`;
      let block = blocks.get(key);
      if (!block) {
        block = readBlock(elevation, bx * BLOCK, by * BLOCK, dLon, dLat);
        const box: Bbox = [
          bx * BLOCK * dLon,
          by * BLOCK * dLat,
          (bx + 1) * BLOCK * dLon,
          (by + 1) * BLOCK * dLat,
        ];
        if (!elevation.isPrepared(box)) whole = false;
        else {
          if (blocks.size >= BLOCKS_KEPT) blocks.clear();
          blocks.set(key, block);
        }
      }
      // Blocks run northward, rows of the grid southward.
      for (let r = 0; r < BLOCK; r++)
        heights.set(
          block.subarray((BLOCK - 1 - r) * BLOCK, (BLOCK - r) * BLOCK),
          ((y1 - by) * BLOCK + r) * columns + (bx - x0) * BLOCK,
        );
    }
  const west = x0 * BLOCK * dLon;
  const north = ((y1 + 1) * BLOCK - 1) * dLat;
  const middle = north - (rows / 2) * dLat;
  const grid: HeightGrid = {
    columns,
    rows,
    heights,
    eastM: dLon * DEG * parallelRadius(middle),
    southM: dLat * DEG * meridianRadius(middle),
    toLonLat: (column, row) => [west + column * dLon, north - row * dLat],
    toGrid: ([lon, lat]) => [(lon - west) / dLon, (north - lat) / dLat],
  };
  return { grid, whole };
}

function readBlock(
  elevation: ElevationModel,
  column: number,
  row: number,
  dLon: number,
  dLat: number,
): Float32Array {
  const heights = new Float32Array(BLOCK * BLOCK);
  const lons = Float64Array.from({ length: BLOCK }, (_, c) => (column + c) * dLon);
  const lats = Float64Array.from({ length: BLOCK }, (_, r) => (row + r) * dLat);
  if (elevation.readNet) elevation.readNet(lons, lats, heights);
  else
    lats.forEach((lat, r) =>
      lons.forEach((lon, c) => void (heights[r * BLOCK + c] = elevation.at([lon, lat]))),
    );
  return heights;
}

/** A field of a grid between its samples, bilinear; NaN outside and beside unknown ones. */
export function between(
  field: Float32Array,
  { columns, rows }: HeightGrid,
  column: number,
  row: number,
): number {
  const c = Math.floor(column);
  const r = Math.floor(row);
  if (!(c >= 0 && r >= 0 && c + 1 < columns && r + 1 < rows)) return Number.NaN;
  const i = r * columns + c;
  const u = column - c;
  const v = row - r;
  const north = field[i]! + (field[i + 1]! - field[i]!) * u;
  const south = field[i + columns]! + (field[i + columns + 1]! - field[i + columns]!) * u;
  return north + (south - north) * v;
}
