/** Summits: highest cells around, with how far one must go down before going higher (prominence). */
import { eastOf, northOf, type HeightGrid } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";

export interface Summit {
  readonly place: Place;
  readonly heightM: number;
  readonly prominenceM: number;
}

/** Summits of at least some prominence, highest first. Cells are flooded from the top down, islands merged. */
export function summitsOf(grid: HeightGrid, leastProminenceM: number): Summit[] {
  const { columns, rows, z } = grid;
  const order = Int32Array.from(z.keys()).sort((a, b) => (z[b] as number) - (z[a] as number) || a - b);
  const island = new Int32Array(z.length).fill(-1);
  const root = (cell: number): number => {
    let at = cell;
    while (island[at] !== at) {
      island[at] = island[island[at] as number] as number;
      at = island[at] as number;
    }
    return at;
  };
  const found: Summit[] = [];
  const settle = (peak: number, saddleM: number): void => {
    const heightM = z[peak] as number;
    if (heightM - saddleM >= leastProminenceM)
      found.push({
        place: [eastOf(grid, peak % columns), northOf(grid, Math.floor(peak / columns))],
        heightM,
        prominenceM: heightM - saddleM,
      });
  };
  for (const cell of order) {
    island[cell] = cell;
    const column = cell % columns;
    const row = (cell - column) / columns;
    for (let dr = -1; dr <= 1; dr++)
      for (let dc = -1; dc <= 1; dc++) {
        const c = column + dc;
        const r = row + dr;
        if ((dc === 0 && dr === 0) || c < 0 || r < 0 || c >= columns || r >= rows) continue;
        const next = r * columns + c;
        if (island[next] === -1) continue;
        const a = root(cell);
        const b = root(next);
        if (a === b) continue;
        // An island is known by its summit: the lower of two ends its claim where they meet.
        const [high, low] =
          (z[a] as number) > (z[b] as number) || ((z[a] as number) === (z[b] as number) && a < b)
            ? [a, b]
            : [b, a];
        if (low !== cell) settle(low, z[cell] as number);
        island[low] = high;
      }
  }
  settle(root(order[0] as number), -Infinity);
  // A summit on the sheet's edge may be the flank of something higher beyond it.
  const inner = found.filter(({ place: [east, north] }) => {
    const edge = Math.min(east, north, columns * grid.cellM - east, rows * grid.cellM - north);
    return edge > 60;
  });
  return inner.sort((a, b) => b.heightM - a.heightM);
}
