/**
 * Fills small voids of a model with a surface stretched between their edges: each height the mean of its four
 * neighbours', as a soap film's is (Laplace's equation). Such a surface has no summit and no pit of its own.
 * Source: five-point difference scheme solved by successive over-relaxation, as in Press et al., Numerical Recipes, 3rd ed., §20.5.
 */
import type { ElevationGrid } from "./elevation-grid.ts";

/** Until no height moves by more, metres. No source: a tenth of the least that tiles tell apart. */
const ENOUGH_M = 0.001;
const MOST_ROUNDS = 5000;

const isKnown = (height: number): boolean => height === height;

export interface FilledVoids {
  readonly grid: ElevationGrid;
  /** Samples filled, and voids left. */
  readonly filled: number;
  readonly left: number;
}

/**
 * Fills voids that are at most so wide, and marks what was filled. A void's width is twice the steps from its
 * rim to its innermost sample, less one: right to within one cell. Voids that reach the edge of the model are no holes and stay.
 * @param mostCells cells; 0 fills nothing
 */
export function fillVoids(grid: ElevationGrid, mostCells: number): FilledVoids {
  const { columns, rows } = grid;
  const heights = grid.heights.slice();
  const filled = grid.filled?.slice() ?? new Uint8Array(heights.length);
  const seen = new Uint8Array(heights.length);
  let [done, left] = [0, 0];
  for (let start = 0; start < heights.length; start++) {
    if (seen[start] || isKnown(heights[start]!)) continue;
    const hole = holeAt(grid, start, seen);
    if (hole.atEdge || !isNarrow(hole.cells, heights, columns, mostCells)) {
      left += hole.cells.length;
      continue;
    }
    relax(hole.cells, heights, columns);
    for (const cell of hole.cells) filled[cell] = 1;
    done += hole.cells.length;
  }
  return {
    grid: done > 0 ? { ...grid, heights, filled } : grid,
    filled: done,
    left,
  };

  function holeAt(
    { heights: known }: ElevationGrid,
    start: number,
    marks: Uint8Array,
  ): { cells: number[]; atEdge: boolean } {
    const cells = [start];
    marks[start] = 1;
    let atEdge = false;
    for (let i = 0; i < cells.length; i++) {
      const cell = cells[i]!;
      const column = cell % columns;
      const row = (cell - column) / columns;
      if (column === 0 || row === 0 || column === columns - 1 || row === rows - 1) atEdge = true;
      for (const [next, inside] of [
        [cell - 1, column > 0],
        [cell + 1, column < columns - 1],
        [cell - columns, row > 0],
        [cell + columns, row < rows - 1],
      ] as const)
        if (inside && !marks[next] && !isKnown(known[next]!)) {
          marks[next] = 1;
          cells.push(next);
        }
    }
    return { cells, atEdge };
  }
}

/** Whether the innermost cell of a hole is reached from its rim in so few steps that the hole is no wider than asked. */
function isNarrow(
  cells: readonly number[],
  heights: Float32Array,
  columns: number,
  mostCells: number,
): boolean {
  const around = (cell: number): readonly number[] => [cell - 1, cell + 1, cell - columns, cell + columns];
  const left = new Set(cells);
  let rim = cells.filter((cell) => around(cell).some((next) => isKnown(heights[next]!)));
  for (const cell of rim) left.delete(cell);
  for (let depth = 1; 2 * depth - 1 <= mostCells; depth++) {
    if (left.size === 0) return true;
    const inner: number[] = [];
    for (const cell of rim) for (const next of around(cell)) if (left.delete(next)) inner.push(next);
    rim = inner;
  }
  return false;
}

function relax(cells: readonly number[], heights: Float32Array, columns: number): void {
  // Cells in the order they were reached lie from the rim inwards in part only; the sweeps go both ways.
  const order = cells.toSorted((a, b) => a - b);
  const values = new Map<number, number>();
  let [sum, count] = [0, 0];
  const around = (cell: number): readonly number[] => [cell - 1, cell + 1, cell - columns, cell + columns];
  for (const cell of order)
    for (const next of around(cell))
      if (isKnown(heights[next]!)) {
        sum += heights[next]!;
        count++;
      }
  for (const cell of order) values.set(cell, sum / count);
  const heightOf = (cell: number): number => values.get(cell) ?? heights[cell]!;
  const across = Math.sqrt(order.length);
  const over = 2 / (1 + Math.PI / (across + 1));
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let most = 0;
    for (const cell of order) {
      const mean = around(cell).reduce((total, next) => total + heightOf(next), 0) / 4;
      const before = values.get(cell)!;
      const now = before + over * (mean - before);
      most = Math.max(most, Math.abs(now - before));
      values.set(cell, now);
    }
    if (most < ENOUGH_M / 100) break;
  }
  for (const [cell, value] of values) heights[cell] = value;
}
