/**
 * Heights for the pixels of terrain tiles, chosen so that bilinear interpolation between pixel centres comes as close
 * to the model's own bilinear surface as it can.
 *
 * That surface has a kink along every row and column of samples, and the pixels lie askew to them. Pixels that simply
 * take the surface's height at their centres make a reader cut off each kink on one side, by up to a quarter of the
 * pixel spacing times the change of slope. Pixels fitted by least squares to samples at half their spacing halve the
 * error, which saves three quarters of the pixels for the same error.
 */
import type { ElevationGrid } from "./elevation-grid.ts";
import { latOf, lonOf, type Placement } from "./grid-placement.ts";

export const TERRAIN_TILE = 512;

/** Pixels fitted beyond a window's edge and thrown away, so that neighbouring windows agree where they meet. */
const APRON = 4;
/** Steps of the least-squares descent, and their length; each takes at least a third of what is left off the error. */
const STEPS = 3;
const STEP_LENGTH = 1.4;
/** Samples between places where the projection is worked out; between them it is taken as bilinear. */
const MESH = 32;

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

/**
 * Heights of the model at half-pixel spacing: sample (i, j) lies at pixel position (x + i / 2, y + j / 2), where pixel
 * positions count from the world's north-west corner and whole numbers are pixel edges.
 */
function sampled(
  grid: ElevationGrid,
  placement: Placement,
  zoom: number,
  x: number,
  y: number,
  size: number,
): Float32Array {
  const world = TERRAIN_TILE * 2 ** zoom;
  const nodes = Math.ceil(size / MESH) + 1;
  const columns = new Float64Array(nodes * nodes);
  const rows = new Float64Array(nodes * nodes);
  for (let j = 0; j < nodes; j++)
    for (let i = 0; i < nodes; i++) {
      const at = placement.toGrid([lonOf((x + (i * MESH) / 2) / world), latOf((y + (j * MESH) / 2) / world)]);
      columns[j * nodes + i] = at[0];
      rows[j * nodes + i] = at[1];
    }
  const out = new Float32Array(size * size);
  for (let sy = 0; sy < size; sy++) {
    const j = Math.floor(sy / MESH);
    const fv = sy / MESH - j;
    for (let i = 0; i + 1 < nodes; i++) {
      // Along a row of samples within one mesh cell both grid coordinates change evenly.
      const n = j * nodes + i;
      const c0 = columns[n]! * (1 - fv) + columns[n + nodes]! * fv;
      const r0 = rows[n]! * (1 - fv) + rows[n + nodes]! * fv;
      const dc = (columns[n + 1]! * (1 - fv) + columns[n + nodes + 1]! * fv - c0) / MESH;
      const dr = (rows[n + 1]! * (1 - fv) + rows[n + nodes + 1]! * fv - r0) / MESH;
      const last = Math.min(MESH, size - i * MESH);
      const at = sy * size + i * MESH;
      for (let k = 0; k < last; k++) out[at + k] = heightAt(grid, c0 + k * dc, r0 + k * dr);
    }
  }
  return out;
}

/** What the surface has more than interpolation between pixels gives, at every half pixel; 0 where either is void. */
function residuals(surface: Float32Array, pixels: Float32Array, n: number, out: Float32Array): void {
  const size = 2 * n - 1;
  for (let sy = 0; sy < size; sy++) {
    const j = sy >> 1;
    const a = j * n;
    const b = sy & 1 ? a + n : a;
    for (let sx = 0; sx < size; sx++) {
      const i = sx >> 1;
      const k = sx & 1;
      const between = (pixels[a + i]! + pixels[a + i + k]! + pixels[b + i]! + pixels[b + i + k]!) / 4;
      const r = surface[sy * size + sx]! - between;
      out[sy * size + sx] = r === r ? r : 0;
    }
  }
}

export interface Fitted {
  /** Heights of the window's pixels, row after row from the north, metres; NaN where the model has none at the pixel's centre. */
  readonly heights: Float32Array;
  /** Whether any is not NaN. */
  readonly known: boolean;
  /** Share of the window where interpolation is off the model by more than `wrongM`, looked at every half pixel, 0–1. */
  shareWrong(wrongM: number): number;
}

/**
 * Fits the square window of `size` pixels whose north-western pixel is (x, y), counted over the world at this zoom.
 */
export function fitWindow(
  grid: ElevationGrid,
  placement: Placement,
  zoom: number,
  x: number,
  y: number,
  size: number,
): Fitted {
  const n = size + 2 * APRON;
  const half = 2 * n - 1;
  const surface = sampled(grid, placement, zoom, x - APRON + 0.5, y - APRON + 0.5, half);
  const pixels = new Float32Array(n * n);
  for (let j = 0; j < n; j++) for (let i = 0; i < n; i++) pixels[j * n + i] = surface[2 * j * half + 2 * i]!;
  const left = new Float32Array(half * half);
  for (let step = 0; step < STEPS; step++) {
    residuals(surface, pixels, n, left);
    for (let j = 1; j + 1 < n; j++)
      for (let i = 1; i + 1 < n; i++) {
        const at = 2 * j * half + 2 * i;
        const up = at - half;
        const down = at + half;
        // Each sample pulls the pixels around it as strongly as it depends on them.
        const pull =
          left[at]! +
          0.5 * (left[at - 1]! + left[at + 1]! + left[up]! + left[down]!) +
          0.25 * (left[up - 1]! + left[up + 1]! + left[down - 1]! + left[down + 1]!);
        pixels[j * n + i]! += (STEP_LENGTH * pull) / 4;
      }
  }
  residuals(surface, pixels, n, left);
  const heights = new Float32Array(size * size);
  let known = false;
  for (let j = 0; j < size; j++)
    for (let i = 0; i < size; i++) {
      const h = pixels[(j + APRON) * n + i + APRON]!;
      heights[j * size + i] = h;
      known ||= h === h;
    }
  const shareWrong = (wrongM: number): number => {
    let wrong = 0;
    for (let j = 2 * APRON; j < half - 2 * APRON; j++)
      for (let i = 2 * APRON; i < half - 2 * APRON; i++) if (Math.abs(left[j * half + i]!) > wrongM) wrong++;
    return wrong / (2 * size - 1) ** 2;
  };
  return { heights, known, shareWrong };
}
