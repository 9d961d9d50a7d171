/**
 * Rivers cutting down: dz/dt = U − K·√A·S (stream power with area exponent ½ and slope exponent 1), one step implicit in
 * time from the outlets upward, so that any step length is stable.
 * Source: J. Braun, S. D. Willett, "A very efficient O(n), implicit and parallel method to solve the stream power
 * equation", Geomorphology 180–181, 2013. The square root keeps powers, which engines round differently, out of it.
 */
import { DIAGONAL, drainageOf } from "./drainage.ts";
import type { HeightGrid } from "./height-grid.ts";
import { latticeRandom } from "./random.ts";

export interface StreamPowerStep {
  readonly years: number;
  /** Rise of the ground, metres a year, one a cell. */
  readonly uplift: Float64Array;
  /** K, per year, one a cell: how easily the rock is cut. */
  readonly erodibility: Float64Array;
  readonly outlets: readonly number[];
  /** Differs from step to step so that channels do not settle into the grid's directions. */
  readonly seed: number;
}

/** Changes the grid in place; pits are filled as if with sediment. */
export function streamPowerStep(grid: HeightGrid, step: StreamPowerStep): void {
  const { columns, cellM, z } = grid;
  const { filled, receiver, order, areaM2 } = drainageOf(grid, step.outlets, (i) =>
    latticeRandom(step.seed, i, 0),
  );
  for (let k = 0; k < order.length; k++) {
    const cell = order[k] as number;
    const to = receiver[cell] as number;
    if (to === cell) continue;
    const apart = Math.abs(cell - to);
    const lengthM = apart === 1 || apart === columns ? cellM : cellM * DIAGONAL;
    const risen = (filled[cell] as number) + (step.uplift[cell] as number) * step.years;
    const below = z[to] as number;
    const factor =
      ((step.erodibility[cell] as number) * step.years * Math.sqrt(areaM2[cell] as number)) / lengthM;
    z[cell] = risen > below ? (risen + factor * below) / (1 + factor) : risen;
  }
}
