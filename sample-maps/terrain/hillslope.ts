/**
 * Slopes between the streams: soil creeping down evenly (diffusion), and rock too steep to stand sliding to its angle.
 * Sources: W. E. H. Culling, "Analytical theory of erosion", J. Geology 68, 1960 (creep as diffusion); talus rule after
 * F. K. Musgrave et al., "The synthesis and rendering of eroded fractal terrains", SIGGRAPH 1989.
 */
import { DIAGONAL, STEPS } from "./drainage.ts";
import type { HeightGrid } from "./height-grid.ts";

/**
 * Creep, in place. Edges are closed.
 * @param diffusedM2 diffusivity × time, square metres: bumps narrower than twice its root fade
 * @param ease how fast soil creeps at each cell, times `diffusedM2`, 0–2; everywhere 1 when left out
 */
export function creep(grid: HeightGrid, diffusedM2: number, ease?: Float64Array): void {
  const { columns, rows, cellM, z } = grid;
  // Explicit steps are stable up to a quarter of a cell's area; a fifth keeps the shortest wave from ringing.
  const steps = Math.max(1, Math.ceil((diffusedM2 * (ease ? 2 : 1)) / (0.2 * cellM * cellM)));
  const share = diffusedM2 / steps / (cellM * cellM);
  const before = new Float64Array(z.length);
  for (let step = 0; step < steps; step++) {
    before.set(z);
    for (let row = 0, i = 0; row < rows; row++)
      for (let column = 0; column < columns; column++, i++) {
        const here = before[i] as number;
        const west = before[column > 0 ? i - 1 : i] as number;
        const east = before[column < columns - 1 ? i + 1 : i] as number;
        const north = before[row > 0 ? i - columns : i] as number;
        const south = before[row < rows - 1 ? i + columns : i] as number;
        z[i] = here + share * (ease ? (ease[i] as number) : 1) * (west + east + north + south - 4 * here);
      }
  }
}

/**
 * Lets ground steeper than a limit slide, in place.
 * @param limit rise over run the ground can stand, one a cell
 */
export function slide(grid: HeightGrid, limit: Float64Array, passes: number): void {
  const { columns, rows, cellM, z } = grid;
  const change = new Float64Array(z.length);
  for (let pass = 0; pass < passes; pass++) {
    change.fill(0);
    for (let row = 1; row < rows - 1; row++)
      for (let column = 1; column < columns - 1; column++) {
        const i = row * columns + column;
        let worst = 0;
        let to = -1;
        for (let k = 0; k < 8; k++) {
          const [dc, dr] = STEPS[k] as readonly [number, number];
          const j = i + dr * columns + dc;
          const over =
            (z[i] as number) - (z[j] as number) - (limit[i] as number) * cellM * (k % 2 ? DIAGONAL : 1);
          if (over > worst) {
            worst = over;
            to = j;
          }
        }
        if (to < 0) continue;
        change[i] = (change[i] as number) - worst * 0.25;
        change[to] = (change[to] as number) + worst * 0.25;
      }
    for (let i = 0; i < z.length; i++) z[i] = (z[i] as number) + (change[i] as number);
  }
}
