/**
 * Where water runs on a grid: pits filled, one receiver a cell, cells in order from the outlets upward, area drained.
 * Method: priority flood, R. Barnes, C. Lehman, D. Mulla, "Priority-flood: an optimal depression-filling and
 * watershed-labeling algorithm for digital elevation models", Computers & Geosciences 62, 2014; steepest of eight
 * neighbours, J. F. O'Callaghan, D. M. Mark, 1984.
 */
import type { HeightGrid } from "./height-grid.ts";
import { CellQueue } from "./cell-queue.ts";

export interface Drainage {
  /** Heights with every pit raised to the level at which it spills, metres. */
  readonly filled: Float64Array;
  /** The cell each cell drains to; itself at an outlet. */
  readonly receiver: Int32Array;
  /** Every cell, each after its receiver. */
  readonly order: Int32Array;
  /** Ground drained through each cell, itself included, square metres. */
  readonly areaM2: Float64Array;
}

/** Column and row steps to the eight neighbours. */
export const STEPS: readonly (readonly [number, number])[] = [
  [1, 0],
  [1, -1],
  [0, -1],
  [-1, -1],
  [-1, 0],
  [-1, 1],
  [0, 1],
  [1, 1],
];
export const DIAGONAL = Math.SQRT2;

/**
 * @param outlets cells where water leaves; every other edge is closed
 * @param wander a number in 0–1 for each cell that blurs the choice among steep neighbours: without it, channels on even
 *   ground run in the grid's own eight directions
 */
export function drainageOf(
  grid: HeightGrid,
  outlets: Iterable<number>,
  wander?: (index: number) => number,
): Drainage {
  const { columns, rows, cellM, z } = grid;
  const count = columns * rows;
  const filled = Float64Array.from(z);
  const receiver = new Int32Array(count).fill(-1);
  const order = new Int32Array(count);
  const done = new Uint8Array(count);
  const queue = new CellQueue(count);
  for (const cell of outlets) {
    receiver[cell] = cell;
    queue.push(cell, filled[cell] as number);
  }
  let taken = 0;
  while (queue.size > 0) {
    const cell = queue.pop();
    done[cell] = 1;
    order[taken++] = cell;
    const height = filled[cell] as number;
    const column = cell % columns;
    const row = (cell - column) / columns;
    const parent = receiver[cell] as number;
    let best = 0;
    for (let k = 0; k < 8; k++) {
      const [dc, dr] = STEPS[k] as readonly [number, number];
      const c = column + dc;
      const r = row + dr;
      if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
      const next = r * columns + c;
      if (receiver[next] === -1) {
        receiver[next] = cell;
        if ((filled[next] as number) < height) filled[next] = height;
        queue.push(next, filled[next] as number);
      } else if (parent !== cell && done[next] === 1 && (filled[next] as number) < height) {
        let slope = (height - (filled[next] as number)) / (k % 2 ? DIAGONAL : 1);
        if (wander) slope *= 0.75 + 0.5 * wander(cell * 8 + k);
        if (slope > best) {
          best = slope;
          receiver[cell] = next;
        }
      }
    }
  }
  const areaM2 = new Float64Array(count).fill(cellM * cellM);
  for (let i = count - 1; i >= 0; i--) {
    const cell = order[i] as number;
    const to = receiver[cell] as number;
    if (to !== cell) areaM2[to] = (areaM2[to] as number) + (areaM2[cell] as number);
  }
  return { filled, receiver, order, areaM2 };
}
