/**
 * Crests and troughs: where the ground, cut across its strongest bend, is highest or lowest.
 * Source: C. Steger, An unbiased detector of curvilinear structures, IEEE Trans. PAMI 20 (1998) 113–125: the line lies
 * where the slope along the direction of strongest curvature vanishes, −slope / curvature away.
 */
import { between, type HeightGrid } from "./height-grid.ts";
import { LEAST_SIDE_RELIEF_M, SIDE_M, STEEP_AXIS } from "./landform.ts";
import type { Quadric } from "./surface-fit.ts";

/** How the ground bends at a place. */
export interface Bend {
  /** Second derivative across the crest or trough, per metre: below 0 at a crest. */
  readonly curvature: number;
  /** Unit vector across it, east and north. */
  readonly across: readonly [east: number, north: number];
  /** From the place to the line, metres in the direction of `across`. */
  readonly offsetM: number;
  /** Rise per metre along the line, without sign. */
  readonly axisSlope: number;
}

/** A crest's or trough's second derivative along itself is smaller than across by this factor. No source. */
const LONG = 0.8;

/** The crest (or trough) of the ground at a place; null where it does not bend that way more than any other. */
export function bendOf({ fx: gx, fy: gy, fxx: xx, fxy: xy, fyy: yy }: Quadric, crest: boolean): Bend | null {
  const half = (xx + yy) / 2;
  const root = Math.hypot((xx - yy) / 2, xy);
  const [strong, weak] = crest ? [half - root, half + root] : [half + root, half - root];
  if (!(crest ? strong < 0 : strong > 0) || Math.abs(weak) > LONG * Math.abs(strong)) return null;
  // Of two forms of the eigenvector the longer one.
  let [ex, ey] = Math.abs(xx - strong) > Math.abs(yy - strong) ? [xy, strong - xx] : [strong - yy, xy];
  const length = Math.hypot(ex, ey);
  if (!(length > 0)) [ex, ey] = crest === xx < yy ? [1, 0] : [0, 1];
  else [ex, ey] = [ex / length, ey / length];
  return {
    curvature: strong,
    across: [ex, ey],
    offsetM: -(gx * ex + gy * ey) / strong,
    axisSlope: Math.abs(gx * -ey + gy * ex),
  };
}

/**
 * How far a crest stands over the ground `SIDE_M` to either side, a trough below it: the mean of both sides, metres.
 * Null when either side falls (rises) too little to be seen, or when heights are missing.
 */
export function sideRelief(
  grid: HeightGrid,
  column: number,
  row: number,
  [east, north]: readonly [number, number],
  crest: boolean,
): number | null {
  const [dc, dr] = [(east * SIDE_M) / grid.eastM, (-north * SIDE_M) / grid.southM];
  const here = between(grid.heights, grid, column, row);
  const sign = crest ? 1 : -1;
  const one = sign * (here - between(grid.heights, grid, column + dc, row + dr));
  const other = sign * (here - between(grid.heights, grid, column - dc, row - dr));
  return one >= LEAST_SIDE_RELIEF_M && other >= LEAST_SIDE_RELIEF_M ? (one + other) / 2 : null;
}

export function kindOf(crest: boolean, axisSlope: number): "spur" | "ridge" | "draw" | "valley" {
  if (axisSlope >= STEEP_AXIS) return crest ? "spur" : "draw";
  return crest ? "ridge" : "valley";
}
