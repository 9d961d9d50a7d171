/**
 * The way a path-maker would choose between two places: the cheapest in length, climb, side slope, fords and turns.
 * A search over cells and directions (A*, P. E. Hart, N. J. Nilsson, B. Raphael, 1968): direction is part of the state so
 * that turning has a price, without which a route wriggles straight up a slope instead of swinging back and forth.
 */
import { CellQueue } from "../terrain/cell-queue.ts";
import { cellAt, eastOf, northOf } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import type { RouteGround } from "./route-ground.ts";

/** Sixteen ways to step, clockwise from east: neighbours and knight's moves. */
const MOVES: readonly (readonly [number, number])[] = [
  [1, 0],
  [2, 1],
  [1, 1],
  [1, 2],
  [0, 1],
  [-1, 2],
  [-1, 1],
  [-2, 1],
  [-1, 0],
  [-2, -1],
  [-1, -1],
  [-1, -2],
  [0, -1],
  [1, -2],
  [1, -1],
  [2, -1],
];

/** Following an existing way is the cheapest there is: the estimate of what is left may promise no more than that. */
const CHEAPEST = 0.45;

export interface RouteTaste {
  /** Rise over run that is climbed most cheaply. */
  readonly grade: number;
  /** Metres of easy going that a quarter turn costs. */
  readonly turnM: number;
  /** How much side slope costs: a road must be cut into the hill, a path need not. */
  readonly sideSlope: number;
}

/** Which steps lie on ways that exist already: one bit a direction at each cell. */
export type UsedSteps = Uint16Array;

/** Marks a step between two cells, both ways round. */
export function markUsed(used: UsedSteps, columns: number, from: number, to: number): void {
  const dc = (to % columns) - (from % columns);
  const dr = Math.floor(to / columns) - Math.floor(from / columns);
  const k = MOVES.findIndex(([c, r]) => c === dc && r === dr);
  used[from] = (used[from] as number) | (1 << k);
  used[to] = (used[to] as number) | (1 << ((k + 8) & 15));
}

/**
 * Cells from one place to the other, or null when there is no way.
 * @param used steps on ways that exist already, which are cheaper to follow
 */
export function leastCostRoute(
  ground: RouteGround,
  from: Place,
  to: Place,
  taste: RouteTaste,
  used: UsedSteps,
): number[] | null {
  const { grid, blocked, ford, bank, rough, steep } = ground;
  const { columns, rows, cellM, z } = grid;
  const start = cellAt(grid, from[0], from[1]);
  const goal = cellAt(grid, to[0], to[1]);
  const goalEast = eastOf(grid, goal % columns);
  const goalNorth = northOf(grid, Math.floor(goal / columns));
  const cost = new Float64Array(z.length * 16).fill(Infinity);
  const came = new Int32Array(z.length * 16).fill(-1);
  const done = new Uint8Array(z.length * 16);
  const queue = new CellQueue(1 << 16);
  const estimate = (cell: number): number => {
    const east = eastOf(grid, cell % columns) - goalEast;
    const north = northOf(grid, Math.floor(cell / columns)) - goalNorth;
    return CHEAPEST * Math.sqrt(east * east + north * north);
  };
  for (let k = 0; k < 16; k++) {
    cost[start * 16 + k] = 0;
    queue.push(start * 16 + k, estimate(start));
  }
  while (queue.size > 0) {
    const state = queue.pop();
    if (done[state] === 1) continue;
    done[state] = 1;
    const cell = state >> 4;
    const heading = state & 15;
    if (cell === goal) return traced(state, came);
    const spent = cost[state] as number;
    const column = cell % columns;
    const row = (cell - column) / columns;
    for (let k = 0; k < 16; k++) {
      const [dc, dr] = MOVES[k] as readonly [number, number];
      const c = column + dc;
      const r = row + dr;
      if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
      const next = r * columns + c;
      // A knight's move passes between two cells: what lies in them counts as well.
      const sideA =
        dc * dc + dr * dr === 5
          ? (row + (Math.abs(dr) === 2 ? dr / 2 : 0)) * columns + column + (Math.abs(dc) === 2 ? dc / 2 : 0)
          : next;
      const sideB = dc * dc + dr * dr === 5 ? (row + Math.sign(dr)) * columns + column + Math.sign(dc) : next;
      if (blocked[next] || blocked[sideA] || blocked[sideB]) continue;
      const lengthM = cellM * Math.sqrt(dc * dc + dr * dr);
      const turn = Math.min((k - heading) & 15, (heading - k) & 15);
      const turnM = taste.turnM * (turn / 4) * (turn > 2 ? 1 : 0.5);
      let step: number;
      if ((used[cell] as number) & (1 << k)) step = CHEAPEST * lengthM;
      else {
        const rise = Math.abs((z[next] as number) - (z[cell] as number)) / lengthM;
        const ratio = rise / taste.grade;
        const side = Math.max(steep[next] as number, steep[sideA] as number);
        const rock = side > 0.5 ? 8 * (side - 0.5) * 10 : 0;
        const wade = Math.max(ford[next] as number, ford[sideA] as number, ford[sideB] as number);
        const wet = (ford[cell] as number) > 0;
        step =
          lengthM *
          ((rough[next] as number) +
            (bank[next] as number) +
            ratio * ratio +
            0.25 * ratio * ratio * ratio * ratio +
            taste.sideSlope * side +
            rock +
            (wet && wade > 1 ? 2 : 0));
        if (!wet) step += wade;
      }
      const total = spent + step + turnM;
      const key = next * 16 + k;
      if ((cost[key] as number) <= total) continue;
      cost[key] = total;
      came[key] = state;
      queue.push(key, total + estimate(next));
    }
  }
  return null;
}

function traced(last: number, came: Int32Array): number[] {
  const cells: number[] = [];
  for (let state = last; state >= 0; state = came[state] as number) cells.push(state >> 4);
  return cells.toReversed();
}
