/**
 * Spot heights: summits that stand out from what is around them, and the saddles between them.
 *
 * Every sample belongs to the summit one reaches by always going to the highest neighbour. The highest places where
 * two such catchments touch are the saddles; joining summits over saddles from the highest down gives each summit's
 * prominence, its height above the highest saddle that leads to higher ground.
 */
import type { Surface } from "./flow.ts";

export interface SpotHeight {
  readonly class: "summit" | "saddle";
  /** Sample of the grid. */
  readonly sample: number;
  readonly heightM: number;
  /** Height over the saddle to higher ground; for a saddle, the prominence of the lower of the summits it joins. */
  readonly prominenceM: number;
}

export interface SpotLimits {
  /** Least prominence, metres. */
  readonly prominenceM: number;
  /** Least distance of two spot heights, metres. */
  readonly apartM: number;
}

export const spotLimits = (cellM: number, intervalM: number): SpotLimits => ({
  prominenceM: Math.max(intervalM, 5),
  apartM: Math.max(300, 8 * cellM),
});

/** Higher, and between equal heights the earlier sample: no two samples are level, so every plateau has one summit. */
const higher = (heights: Float32Array, i: number, j: number): boolean => {
  const above = heights[i]! - heights[j]!;
  return above > 0 || (above === 0 && i < j);
};

/** For each sample the summit above it; −1 on voids. Written over `to`. */
function summitsAbove({ columns, rows, heights }: Surface, to: Int32Array): Int32Array {
  const count = columns * rows;
  to.fill(-1);
  for (let i = 0; i < count; i++) {
    if (heights[i]! !== heights[i]!) continue;
    const c = i % columns;
    let best = i;
    for (let dr = -columns; dr <= columns; dr += columns)
      for (let dc = -1; dc <= 1; dc++) {
        const j = i + dr + dc;
        if (j < 0 || j >= count || c + dc < 0 || c + dc >= columns) continue;
        if (higher(heights, j, best)) best = j;
      }
    to[i] = best;
  }
  // Shortening the ways: each sample points to the end of the way of the one it pointed to.
  for (let i = 0; i < count; i++) {
    let top = to[i]!;
    if (top < 0) continue;
    while (to[top] !== top) top = to[top]!;
    for (let j = i; to[j] !== top;) {
      const next = to[j]!;
      to[j] = top;
      j = next;
    }
  }
  return to;
}

interface Pass {
  readonly a: number;
  readonly b: number;
  readonly sample: number;
}

/** The highest place where each two neighbouring catchments touch. */
function passesOf({ columns, rows, heights }: Surface, above: Int32Array): Pass[] {
  const count = columns * rows;
  // By both summits as one number. Where heights are whole metres, there are passes by the hundred thousand.
  const best = new Map<number, number>();
  const touch = (i: number, j: number): void => {
    const a = Math.min(above[i]!, above[j]!);
    const b = Math.max(above[i]!, above[j]!);
    if (a < 0 || a === b) return;
    const sample = higher(heights, i, j) ? j : i;
    const key = a * count + b;
    const known = best.get(key);
    if (known === undefined || higher(heights, sample, known)) best.set(key, sample);
  };
  for (let i = 0; i < count; i++) {
    const c = i % columns;
    if (c + 1 < columns) touch(i, i + 1);
    if (i + columns >= count) continue;
    touch(i, i + columns);
    if (c + 1 < columns) touch(i, i + columns + 1);
    if (c > 0) touch(i, i + columns - 1);
  }
  return Array.from(best, ([key, sample]) => ({ a: Math.floor(key / count), b: key % count, sample }));
}

/**
 * All summits and saddles that stand out enough, most prominent first, none closer to another than the limits say.
 * @param room a number a sample, written over
 */
export function spotHeights(
  surface: Surface,
  limits: SpotLimits,
  room: Int32Array = new Int32Array(surface.heights.length),
): SpotHeight[] {
  const { heights, columns, rows } = surface;
  const above = summitsAbove(surface, room);
  const passes = passesOf(surface, above).sort((p, q) => (higher(heights, p.sample, q.sample) ? -1 : 1));
  const root = new Map<number, number>();
  const rootOf = (i: number): number => {
    let r = i;
    for (let up = root.get(r); up !== undefined; up = root.get(r)) r = up;
    if (r !== i) root.set(i, r);
    return r;
  };
  const spots: SpotHeight[] = [];
  const ended = new Set<number>();
  for (const { a, b, sample } of passes) {
    const ra = rootOf(a);
    const rb = rootOf(b);
    if (ra === rb) continue;
    const [winner, loser] = higher(heights, ra, rb) ? [ra, rb] : [rb, ra];
    root.set(loser, winner);
    ended.add(loser);
    const prominenceM = heights[loser]! - heights[sample]!;
    if (prominenceM < limits.prominenceM) continue;
    spots.push({ class: "summit", sample: loser, heightM: heights[loser]!, prominenceM });
    spots.push({ class: "saddle", sample, heightM: heights[sample]!, prominenceM });
  }
  // What never met higher ground: the highest summit of each connected piece, prominent over its lowest ground.
  let lowest = Infinity;
  for (let i = 0; i < heights.length; i++) if (heights[i]! < lowest) lowest = heights[i]!;
  for (let i = 0; i < above.length; i++)
    if (above[i] === i && !ended.has(i) && heights[i]! - lowest >= limits.prominenceM)
      spots.push({ class: "summit", sample: i, heightM: heights[i]!, prominenceM: heights[i]! - lowest });

  // The model's edge cuts slopes off: what is highest there need not be a summit.
  const inside = spots.filter(({ sample }) => {
    const c = sample % columns;
    const r = Math.floor(sample / columns);
    return c > 0 && r > 0 && c < columns - 1 && r < rows - 1;
  });
  const rank = (spot: SpotHeight): number => (spot.class === "summit" ? 2 : 1) * spot.prominenceM;
  return thinOut(
    inside.sort((p, q) => rank(q) - rank(p) || p.sample - q.sample),
    surface,
    limits.apartM,
  );
}

/** Takes spots in the order given, leaving out those too close to one taken before. */
function thinOut(
  spots: readonly SpotHeight[],
  { columns, cellM, cellWidthM }: Surface,
  apartM: number,
): SpotHeight[] {
  const buckets = new Map<string, { x: number; y: number }[]>();
  const kept: SpotHeight[] = [];
  for (const spot of spots) {
    const row = Math.floor(spot.sample / columns);
    const x = (spot.sample % columns) * cellWidthM(row);
    const y = row * cellM;
    const bx = Math.floor(x / apartM);
    const by = Math.floor(y / apartM);
    let free = true;
    for (let i = bx - 1; i <= bx + 1; i++)
      for (let j = by - 1; j <= by + 1; j++)
        for (const other of buckets.get(`${i} ${j}`) ?? [])
          free &&= Math.hypot(other.x - x, other.y - y) >= apartM;
    if (!free) continue;
    kept.push(spot);
    const key = `${bx} ${by}`;
    buckets.set(key, [...(buckets.get(key) ?? []), { x, y }]);
  }
  return kept;
}
