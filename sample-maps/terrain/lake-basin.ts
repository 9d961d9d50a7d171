/**
 * A lake in a hollow the ice would have scooped: around one place, ground lower than some height above the sill turns
 * into water, and the slopes behind are drawn down to the shore. The sill is the trunk stream's own bed where the
 * hollow ends, so the lake has its outlet there and nothing downstream changes.
 */
import type { Drainage } from "./drainage.ts";
import { eastOf, northOf, smoothstep, type HeightGrid } from "./height-grid.ts";

export interface Hollow {
  readonly eastM: number;
  readonly northM: number;
  /** The hollow is full within `nearM` and has ended at `farM` from its middle. */
  readonly nearM: number;
  readonly farM: number;
  /** Ground up to this high above the sill becomes water, metres. */
  readonly deepM: number;
  /** How much deeper (above 0) or shallower a place is than that, as a share: breaks up the shore. */
  readonly uneven: (eastM: number, northM: number) => number;
}

export interface Lake {
  readonly levelM: number;
  /** Cells of the trunk stream's bed from the first below the lake on, to where its own bed is well below the lake. */
  readonly outlet: readonly number[];
  /** Below zero on water, above on land: its zero line is the shore. One a cell. */
  readonly shore: Float64Array;
}

/** Scoops in place and fills with water: every lake cell has the lake's level. */
export function scoopLake(grid: HeightGrid, drainage: Drainage, hollow: Hollow): Lake {
  const { columns, z } = grid;
  const share = (cell: number): number => {
    const east = eastOf(grid, cell % columns) - hollow.eastM;
    const north = northOf(grid, Math.floor(cell / columns)) - hollow.northM;
    return 1 - smoothstep(hollow.nearM, hollow.farM, Math.sqrt(east * east + north * north));
  };
  const levelM = sillLevel(grid, drainage, share);
  const shore = new Float64Array(z.length).fill(100);
  for (let cell = 0; cell < z.length; cell++) {
    const above = (z[cell] as number) - levelM;
    const full = hollow.deepM * share(cell);
    if (full <= 0) continue;
    const drawn =
      full * (1 + hollow.uneven(eastOf(grid, cell % columns), northOf(grid, Math.floor(cell / columns))));
    if (drawn <= 0) continue;
    // Slopes are drawn down over three times the depth: steeper by half at most.
    const reach = 3 * drawn;
    shore[cell] = above - drawn;
    if (above > drawn && above < reach) z[cell] = levelM + ((above - drawn) * reach) / (reach - drawn);
  }
  keepConnected(grid, shore, hollow);
  for (let cell = 0; cell < z.length; cell++) if ((shore[cell] as number) <= 0) z[cell] = levelM;
  return { levelM, shore, outlet: outletOf(grid, drainage, shore, levelM, share) };
}

/**
 * Lets the lake out through its one outlet, in place: a bed that falls from the lake's level, and a low bank elsewhere
 * near it. Do this after any roughening, which would dam the bed again.
 */
export function openOutlet(grid: HeightGrid, lake: Lake): void {
  const { columns, z } = grid;
  const first = lake.outlet[0];
  if (first === undefined) return;
  const reach = Math.ceil(450 / grid.cellM);
  const bed = new Set(lake.outlet);
  for (let down = -reach; down <= reach; down++)
    for (let right = -reach; right <= reach; right++) {
      const cell = first + down * columns + right;
      if ((lake.shore[cell] ?? 0) <= 0 || bed.has(cell)) continue;
      let beside = false;
      for (let dr = -2; dr <= 2; dr++)
        for (let dc = -2; dc <= 2; dc++) if ((lake.shore[cell + dr * columns + dc] ?? 1) <= 0) beside = true;
      if (beside) z[cell] = Math.max(z[cell] as number, lake.levelM + 0.4);
    }
  lake.outlet.forEach((cell, k) => (z[cell] = Math.min(z[cell] as number, lake.levelM - 0.03 * (k + 1))));
}

function outletOf(
  grid: HeightGrid,
  drainage: Drainage,
  shore: Float64Array,
  levelM: number,
  share: (cell: number) => number,
): number[] {
  let cell = trunkOf(drainage, share);
  const path: number[] = [];
  // The trunk may cross a spit of land within the lake: only what follows its last lake cell is the outlet.
  for (;;) {
    if ((shore[cell] as number) <= 0) path.length = 0;
    else path.push(cell);
    const to = drainage.receiver[cell] as number;
    if (to === cell || (path.length > 0 && share(cell) === 0 && (grid.z[cell] as number) < levelM - 2))
      return path;
    cell = to;
  }
}

/** The cell of the hollow's core through which most ground drains. */
function trunkOf(drainage: Drainage, share: (cell: number) => number): number {
  let trunk = -1;
  for (let i = 0; i < drainage.areaM2.length; i++)
    if (share(i) > 0.5 && (trunk < 0 || (drainage.areaM2[i] as number) > (drainage.areaM2[trunk] as number)))
      trunk = i;
  return trunk;
}

/** Bed of the trunk stream where it leaves the hollow. */
function sillLevel(grid: HeightGrid, drainage: Drainage, share: (cell: number) => number): number {
  let cell = trunkOf(drainage, share);
  while (share(cell) > 0.02) {
    const to = drainage.receiver[cell] as number;
    if (to === cell) break;
    cell = to;
  }
  return grid.z[cell] as number;
}

/** Turns stray low cells that are not part of the one lake back into land a little above it. */
function keepConnected(grid: HeightGrid, shore: Float64Array, hollow: Hollow): void {
  const { columns, rows, cellM } = grid;
  const seen = new Uint8Array(shore.length);
  let start = -1;
  let nearest = Infinity;
  for (let cell = 0; cell < shore.length; cell++) {
    if ((shore[cell] as number) > 0) continue;
    const east = ((cell % columns) + 0.5) * cellM - hollow.eastM;
    const north = northOf(grid, Math.floor(cell / columns)) - hollow.northM;
    const distance = east * east + north * north;
    if (distance < nearest) [nearest, start] = [distance, cell];
  }
  const stack = start < 0 ? [] : [start];
  if (start >= 0) seen[start] = 1;
  while (stack.length > 0) {
    const cell = stack.pop() as number;
    const column = cell % columns;
    const row = Math.floor(cell / columns);
    const near = [
      column > 0 ? cell - 1 : cell,
      column < columns - 1 ? cell + 1 : cell,
      row > 0 ? cell - columns : cell,
      row < rows - 1 ? cell + columns : cell,
    ];
    for (const next of near)
      if (seen[next] === 0 && (shore[next] as number) <= 0) {
        seen[next] = 1;
        stack.push(next);
      }
  }
  for (let cell = 0; cell < shore.length; cell++)
    if (seen[cell] === 0 && (shore[cell] as number) <= 0) shore[cell] = 0.01;
}
