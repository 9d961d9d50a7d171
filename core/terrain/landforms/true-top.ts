/** The very top of a hill, or bottom of a hole, between the samples of a grid. */
import type { LonLat } from "../../units/position.ts";
import type { ElevationModel } from "../elevation.ts";
import type { HeightGrid } from "./height-grid.ts";

/** Finest step looked at, in steps of the grid: a metre or two. */
const FINEST = 1 / 16;
const MOST_STEPS = 60;

/**
 * From a sample that is higher than its neighbours, up over the ground itself by ever shorter steps, to where none goes
 * higher. The ground between the samples of a model bends only along its own rows and columns, so that a top lies on
 * one of its samples, which the grid may pass by.
 * @param up false goes down
 */
export function trueTop(
  elevation: ElevationModel,
  grid: HeightGrid,
  sample: number,
  up: boolean,
): { readonly lonLat: LonLat; readonly elevationM: number } {
  const sign = up ? 1 : -1;
  let column = sample % grid.columns;
  let row = (sample - column) / grid.columns;
  let best = sign * grid.heights[sample]!;
  const start = elevation.at(grid.toLonLat(column, row));
  if (!Number.isNaN(start)) best = sign * start;
  for (let step = 2, n = 0; step >= FINEST && n < MOST_STEPS; n++) {
    const [fromColumn, fromRow, from] = [column, row, best];
    for (const [c, r] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
      [1, 1],
      [1, -1],
      [-1, 1],
      [-1, -1],
    ] as const) {
      const level = sign * elevation.at(grid.toLonLat(fromColumn + c * step, fromRow + r * step));
      if (level > best) [best, column, row] = [level, fromColumn + c * step, fromRow + r * step];
    }
    if (best === from) step /= 2;
  }
  return { lonLat: grid.toLonLat(column, row), elevationM: sign * best };
}
