/** How far samples lie from where their model ends, and what that means where models meet. */
import type { GridWindow } from "./elevation-model.ts";

/** A seam is blended over so many cells at most. No source. */
export const WIDEST_SEAM = 255;

/**
 * Steps from each sample to the nearest void or edge of the model, 0 on voids; along rows and columns.
 * Where a window was cut out of the model, its sides are no edges.
 * Source: two-pass city-block distance transform (Rosenfeld and Pfaltz, 1966).
 */
export function edgeDistances(heights: Float32Array, window: GridWindow, whole: GridWindow): Uint8Array {
  const { columns, rows } = window;
  const west = window.column === 0 ? 0 : WIDEST_SEAM;
  const north = window.row === 0 ? 0 : WIDEST_SEAM;
  const east = window.column + columns === whole.columns ? 0 : WIDEST_SEAM;
  const south = window.row + rows === whole.rows ? 0 : WIDEST_SEAM;
  return distances(heights, columns, rows, { west, north, east, south });
}

interface Beyond {
  readonly west: number;
  readonly north: number;
  readonly east: number;
  readonly south: number;
}

function distances(heights: Float32Array, columns: number, rows: number, beyond: Beyond): Uint8Array {
  const out = new Uint8Array(columns * rows);
  for (let r = 0, i = 0; r < rows; r++)
    for (let c = 0; c < columns; c++, i++) {
      if (heights[i]! !== heights[i]!) continue;
      const left = c > 0 ? out[i - 1]! : beyond.west;
      const up = r > 0 ? out[i - columns]! : beyond.north;
      out[i] = Math.min(WIDEST_SEAM, left + 1, up + 1);
    }
  for (let r = rows - 1, i = columns * rows - 1; r >= 0; r--)
    for (let c = columns - 1; c >= 0; c--, i--) {
      if (out[i] === 0) continue;
      const right = c + 1 < columns ? out[i + 1]! : beyond.east;
      const down = r + 1 < rows ? out[i + columns]! : beyond.south;
      out[i] = Math.min(out[i]!, right + 1, down + 1);
    }
  return out;
}

/** Lays finer heights over coarser ones, fading in over so many samples; the sides of the grid are no edges. */
export function layOver(
  under: Float32Array,
  over: Float32Array,
  columns: number,
  rows: number,
  fade: number,
): void {
  const none = { west: WIDEST_SEAM, north: WIDEST_SEAM, east: WIDEST_SEAM, south: WIDEST_SEAM };
  const depth = distances(over, columns, rows, none);
  for (let i = 0; i < over.length; i++) {
    const fine = over[i]!;
    if (fine !== fine) continue;
    const coarse = under[i]!;
    const share = Math.min(1, depth[i]! / fade);
    under[i] = coarse === coarse ? coarse + (fine - coarse) * share : fine;
  }
}
