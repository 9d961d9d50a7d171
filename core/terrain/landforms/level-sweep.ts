/**
 * Summits with their prominence, pits with their depth, and the saddles between summits.
 *
 * As if the sea fell: islands appear at summits and join at saddles. When two islands join, the one with the lower summit
 * ends, and its prominence is the height of its summit over the saddle (topographic prominence; union of islands by
 * disjoint sets). From the lowest up the same gives pits.
 *
 * An island is made of whole slopes, each the samples from which the steepest way leads up to one summit. So it is enough
 * to find for each two slopes that touch the highest place where they do, and to go through those places from the top.
 */
import type { HeightGrid } from "./height-grid.ts";
import { type Meeting, slopesOf } from "./steepest-ways.ts";

export interface Extreme {
  /** Sample of the summit or pit. */
  readonly sample: number;
  /** Prominence or depth, metres. */
  readonly reliefM: number;
  /** Heights end before the relief does. */
  readonly atLeast: boolean;
}

export interface Pass {
  readonly sample: number;
  /** Below the lower of the two summits it joins, metres. */
  readonly reliefM: number;
}

export interface Sweep {
  readonly extremes: readonly Extreme[];
  /** Where two summits' islands join: saddles; from below where two pits' lakes join. */
  readonly passes: readonly Pass[];
}

/**
 * @param up true for summits, false for pits
 * @param leastM least prominence or depth reported, and least height of both summits over a saddle
 */
export function sweepLevels(grid: HeightGrid, up: boolean, leastM: number): Sweep {
  const { heights } = grid;
  const sign = up ? 1 : -1;
  const { tops, meetings, rims } = slopesOf(grid, up);
  const level = (i: number): number => sign * heights[i]!;
  const parent = Int32Array.from(tops, (_, slope) => slope);
  // Level at which an island first met the end of what is known.
  const edge = new Float64Array(tops.length).fill(Number.NaN);
  // A lake that runs over into one that has reached the edge lower down is taken to run off there: its depth is known.
  const runsOff = new Uint8Array(tops.length);
  const find = (i: number): number => {
    while (parent[i] !== i) i = parent[i] = parent[parent[i]!]!;
    return i;
  };
  const extremes: Extreme[] = [];
  const passes: Pass[] = [];
  const topOf = (slope: number): number => level(tops[slope]!);
  const end = (root: number, at: number): void => {
    const met = edge[root]!;
    const reliefM = topOf(root) - (Number.isNaN(met) ? at : Math.max(met, at));
    if (reliefM >= leastM)
      extremes.push({ sample: tops[root]!, reliefM, atLeast: met > at && !runsOff[root] });
  };
  // From the top down; where both fall on one level islands join before they meet the edge.
  const events: readonly Meeting[] = [
    ...meetings,
    ...rims.map(({ sample, slope }) => ({ sample, a: slope, b: -1 })),
  ];
  const levels = Float64Array.from(events, ({ sample }) => level(sample));
  const order = Uint32Array.from(events, (_, k) => k).sort((p, q) => levels[q]! - levels[p]! || p - q);
  for (const k of order) {
    const { sample, a, b } = events[k] as Meeting;
    const at = levels[k]!;
    const one = find(a);
    if (b < 0) {
      if (Number.isNaN(edge[one]!)) edge[one] = at;
      continue;
    }
    const other = find(b);
    if (one === other) continue;
    const [high, low] = topOf(one) >= topOf(other) ? [one, other] : [other, one];
    const reliefM = topOf(low) - at;
    if (reliefM >= leastM) passes.push({ sample, reliefM });
    end(low, at);
    parent[low] = high;
    // Above this level the island of the higher summit did not reach the edge through the lower one.
    if (Number.isNaN(edge[high]!) && !Number.isNaN(edge[low]!)) {
      edge[high] = at;
      runsOff[high] = up ? 0 : 1;
    }
  }
  for (let slope = 0; slope < tops.length; slope++) if (parent[slope] === slope) end(slope, -Infinity);
  return { extremes, passes };
}
