/**
 * Summits with their prominence, pits with their depth, and the saddles between summits.
 *
 * The samples are taken from the highest down, as if the sea fell: islands appear at summits and join at saddles. When
 * two islands join, the one with the lower summit ends, and its prominence is the height of its summit over the saddle
 * (topographic prominence; union of islands by disjoint sets). From the lowest up the same gives pits.
 */
import type { HeightGrid } from "./height-grid.ts";

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

/** More buckets than a height is stored to over a few thousand metres. */
const BUCKETS = 65_536;

/**
 * @param up true for summits, false for pits
 * @param leastM least prominence or depth reported, and least height of both summits over a saddle
 */
export function sweepLevels({ columns, rows, heights }: HeightGrid, up: boolean, leastM: number): Sweep {
  const sign = up ? 1 : -1;
  const order = fromTheTop(heights, sign);
  const parent = new Int32Array(heights.length).fill(-1);
  const top = new Int32Array(heights.length);
  // Level at which an island first met the end of what is known.
  const edge = new Float32Array(heights.length).fill(Number.NaN);
  // A lake that runs over into one that has reached the edge lower down is taken to run off there: its depth is known.
  const runsOff = new Uint8Array(heights.length);
  const level = (i: number): number => sign * heights[i]!;
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[i] !== root) [i, parent[i]] = [parent[i]!, root];
    return root;
  };
  const extremes: Extreme[] = [];
  const passes: Pass[] = [];
  const end = (root: number, at: number): void => {
    const met = edge[root]!;
    const reliefM = level(top[root]!) - (Number.isNaN(met) ? at : Math.max(met, at));
    if (reliefM >= leastM)
      extremes.push({ sample: top[root]!, reliefM, atLeast: met > at && !runsOff[root] });
  };
  for (const i of order) {
    const c = i % columns;
    const r = (i - c) / columns;
    let mine = -1;
    let edgy = c === 0 || r === 0 || c === columns - 1 || r === rows - 1;
    parent[i] = i;
    top[i] = i;
    for (let dr = -1; dr <= 1; dr++)
      for (let dc = -1; dc <= 1; dc++) {
        const [nc, nr] = [c + dc, r + dr];
        if (nc < 0 || nr < 0 || nc >= columns || nr >= rows) continue;
        const j = nr * columns + nc;
        if (Number.isNaN(heights[j]!)) edgy = true;
        if (j === i || parent[j]! < 0) continue;
        const other = find(j);
        if (other === mine) continue;
        if (mine < 0) mine = other;
        else {
          const [high, low] = level(top[mine]!) >= level(top[other]!) ? [mine, other] : [other, mine];
          const reliefM = level(top[low]!) - level(i);
          if (reliefM >= leastM) passes.push({ sample: i, reliefM });
          end(low, level(i));
          parent[low] = high;
          // Above this level the island of the higher summit did not reach the edge through the lower one.
          if (Number.isNaN(edge[high]!) && !Number.isNaN(edge[low]!)) {
            edge[high] = level(i);
            runsOff[high] = up ? 0 : 1;
          }
          mine = high;
        }
      }
    if (mine < 0) mine = i;
    else {
      parent[i] = mine;
      // Within a bucket samples come in no order.
      if (level(i) > level(top[mine]!)) top[mine] = i;
    }
    if (edgy && Number.isNaN(edge[mine]!)) edge[mine] = level(i);
  }
  for (const i of order) if (parent[i] === i) end(i, -Infinity);
  return { extremes, passes };
}

/** Samples by falling level, to a hundredth or so of a metre. */
function fromTheTop(heights: Float32Array, sign: number): Int32Array {
  let [low, high, known] = [Infinity, -Infinity, 0];
  for (const h of heights)
    if (!Number.isNaN(h)) {
      known++;
      if (h < low) low = h;
      if (h > high) high = h;
    }
  const scale = high > low ? (BUCKETS - 1) / (high - low) : 0;
  const bucket = (h: number): number => Math.floor(sign > 0 ? (high - h) * scale : (h - low) * scale);
  const starts = new Int32Array(BUCKETS + 1);
  for (const h of heights) if (!Number.isNaN(h)) starts[bucket(h) + 1]!++;
  for (let b = 0; b < BUCKETS; b++) starts[b + 1]! += starts[b]!;
  const order = new Int32Array(known);
  heights.forEach((h, i) => {
    if (!Number.isNaN(h)) order[starts[bucket(h)]!++] = i;
  });
  return order;
}
