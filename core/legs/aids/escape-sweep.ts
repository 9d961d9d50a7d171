/**
 * One bearing swept over a leg: from every place of the leg at once one walks off on the same bearing, until the first
 * big line is met.
 *
 * A place (s, t) of the leg's frame is reached from x = s − t·cot β after y = t / sin β metres, β the angle from the leg
 * to the bearing. So every segment of the map is again a straight segment over the leg: x where one set out, y how far
 * one went. The lowest of them over each x is the front; its highest place is the worst distance, exactly.
 */
import type { Segments } from "./escape-lines.ts";

/** A straight stretch of the front: between two places of the leg, on one segment. */
export interface FrontPiece {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
  /** The segment met; −1 where none is met within reach. */
  readonly segment: number;
}

/** Gaps and stretches of a leg below this are rounding, metres. */
const TINY_M = 1e-6;

/**
 * Segments over the leg, cut to 0 ≤ x ≤ length and 0 ≤ y ≤ reach.
 * Each is four numbers, x rising, and the number of its segment.
 */
export interface Swept {
  readonly xy: Float64Array;
  readonly segment: Int32Array;
  count: number;
}

export function sweptOf(
  { at, count }: Segments,
  cos: number,
  sin: number,
  lengthM: number,
  reachM: number,
  room: Swept,
): Swept {
  const cot = cos / sin;
  const { xy, segment } = room;
  let n = 0;
  for (let i = 0; i < count; i++) {
    const t0 = at[4 * i + 1] as number;
    const t1 = at[4 * i + 3] as number;
    let y0 = t0 / sin;
    let y1 = t1 / sin;
    if ((y0 < 0 && y1 < 0) || (y0 > reachM && y1 > reachM)) continue;
    let x0 = (at[4 * i] as number) - t0 * cot;
    let x1 = (at[4 * i + 2] as number) - t1 * cot;
    if ((x0 < 0 && x1 < 0) || (x0 > lengthM && x1 > lengthM)) continue;
    if (x1 < x0) [x0, x1, y0, y1] = [x1, x0, y1, y0];
    // Cut by y, then by x.
    if (y0 < 0) [x0, y0] = [x0 + (y0 / (y0 - y1)) * (x1 - x0), 0];
    else if (y1 < 0) [x1, y1] = [x0 + (y0 / (y0 - y1)) * (x1 - x0), 0];
    if (y0 > reachM) [x0, y0] = [x0 + ((y0 - reachM) / (y0 - y1)) * (x1 - x0), reachM];
    else if (y1 > reachM) [x1, y1] = [x0 + ((y0 - reachM) / (y0 - y1)) * (x1 - x0), reachM];
    if (x1 < 0 || x0 > lengthM) continue;
    if (x0 < 0) [y0, x0] = [y0 + (x0 / (x0 - x1)) * (y1 - y0), 0];
    if (x1 > lengthM) [y1, x1] = [y0 + ((lengthM - x0) / (x1 - x0)) * (y1 - y0), lengthM];
    xy[4 * n] = x0;
    xy[4 * n + 1] = y0;
    xy[4 * n + 2] = x1;
    xy[4 * n + 3] = y1;
    segment[n++] = i;
  }
  room.count = n;
  return room;
}

export const sweptRoom = (segments: number): Swept => ({
  xy: new Float64Array(4 * segments),
  segment: new Int32Array(segments),
  count: 0,
});

/**
 * The front over the whole leg, in order; pieces without a line where none is met.
 * @param whole whether a gap ends the work: what is returned then ends with the gap
 */
export function frontOf({ xy, segment, count }: Swept, lengthM: number, whole = false): FrontPiece[] {
  const order: number[] = [];
  for (let i = 0; i < count; i++)
    // A segment that lies along the bearing stands for no stretch of the leg.
    if ((xy[4 * i + 2] as number) - (xy[4 * i] as number) > TINY_M) order.push(i);
  order.sort((a, b) => (xy[4 * a] as number) - (xy[4 * b] as number));
  const breaks = new Float64Array(2 * order.length + 2);
  order.forEach((i, k) => {
    breaks[2 * k] = xy[4 * i] as number;
    breaks[2 * k + 1] = xy[4 * i + 2] as number;
  });
  breaks[2 * order.length] = 0;
  breaks[2 * order.length + 1] = lengthM;
  breaks.sort();
  const pieces: { x0: number; x1: number; y0: number; y1: number; segment: number }[] = [];
  const push = (x0: number, x1: number, y0: number, y1: number, i: number): void => {
    const own = i < 0 ? -1 : (segment[i] as number);
    const last = pieces.at(-1);
    if (last && last.segment === own) {
      last.x1 = x1;
      last.y1 = y1;
    } else pieces.push({ x0, x1, y0, y1, segment: own });
  };
  const rise = new Float64Array(count);
  for (const i of order)
    rise[i] =
      ((xy[4 * i + 3] as number) - (xy[4 * i + 1] as number)) /
      ((xy[4 * i + 2] as number) - (xy[4 * i] as number));
  const yAt = (i: number, x: number): number =>
    (xy[4 * i + 1] as number) + (x - (xy[4 * i] as number)) * (rise[i] as number);
  const active = new Int32Array(order.length);
  let actives = 0;
  /** The lowest at x; where two are equally low, the one lower towards `towards`. */
  const lowest = (x: number, towards: number): number => {
    let best = -1;
    let bestY = Infinity;
    for (let k = 0; k < actives; k++) {
      const i = active[k] as number;
      const y = yAt(i, x);
      if (y < bestY - 1e-9 || (y < bestY + 1e-9 && yAt(i, towards) < yAt(best, towards))) {
        best = i;
        bestY = y;
      }
    }
    return best;
  };
  const between = (x0: number, x1: number, i: number, j: number, depth: number): void => {
    if (i === j || depth > 40) return push(x0, x1, yAt(i, x0), yAt(i, x1), i);
    // Lowest at one end is i, at the other j: they cross in between, and there or below it changes.
    const [d0, d1] = [yAt(j, x0) - yAt(i, x0), yAt(j, x1) - yAt(i, x1)];
    const x = x0 + (d0 / (d0 - d1)) * (x1 - x0);
    if (!(x > x0 + TINY_M && x < x1 - TINY_M)) {
      const own = x <= x0 + TINY_M ? j : i;
      return push(x0, x1, yAt(own, x0), yAt(own, x1), own);
    }
    const k = lowest(x, x1);
    if (yAt(k, x) > yAt(i, x) - 1e-9) {
      push(x0, x, yAt(i, x0), yAt(i, x), i);
      return push(x, x1, yAt(j, x), yAt(j, x1), j);
    }
    between(x0, x, i, lowest(x, x0), depth + 1);
    between(x, x1, k, j, depth + 1);
  };
  let next = 0;
  for (let b = 0; b + 1 < breaks.length; b++) {
    const [x0, x1] = [breaks[b] as number, breaks[b + 1] as number];
    if (x1 - x0 <= TINY_M) continue;
    while (next < order.length && (xy[4 * (order[next] as number)] as number) <= x0 + TINY_M)
      active[actives++] = order[next++] as number;
    for (let k = actives - 1; k >= 0; k--)
      if ((xy[4 * (active[k] as number) + 2] as number) < x1 - TINY_M)
        active[k] = active[--actives] as number;
    if (actives === 0) {
      push(x0, x1, NaN, NaN, -1);
      if (whole) break;
    } else between(x0, x1, lowest(x0, x1), lowest(x1, x0), 0);
  }
  return pieces;
}

/**
 * Stretches of the leg from which something lies before the front.
 * @param clearM how much nearer than the front it must lie to count
 */
export function beforeFront(
  pieces: readonly FrontPiece[],
  { xy, segment, count }: Swept,
  clearM = 0.01,
): { readonly x0: number; readonly x1: number; readonly segment: number }[] {
  const found: { x0: number; x1: number; segment: number }[] = [];
  if (count === 0) return found;
  for (let i = 0; i < count; i++) {
    const [x0, y0, x1, y1] = [xy[4 * i], xy[4 * i + 1], xy[4 * i + 2], xy[4 * i + 3]] as [
      number,
      number,
      number,
      number,
    ];
    for (let p = firstReaching(pieces, x0); p < pieces.length; p++) {
      const piece = pieces[p] as FrontPiece;
      if (piece.x0 > x1) break;
      // Where nothing is met the way ends nowhere: that is told already.
      if (piece.segment < 0) continue;
      const [a, b] = [Math.max(x0, piece.x0), Math.min(x1, piece.x1)];
      const own = (x: number): number =>
        x1 - x0 > TINY_M ? y0 + ((x - x0) / (x1 - x0)) * (y1 - y0) : Math.min(y0, y1);
      const front = (x: number): number =>
        piece.x1 - piece.x0 > TINY_M
          ? piece.y0 + ((x - piece.x0) / (piece.x1 - piece.x0)) * (piece.y1 - piece.y0)
          : piece.y0;
      const [da, db] = [front(a) - own(a) - clearM, front(b) - own(b) - clearM];
      if (!(da > 0 || db > 0)) continue;
      const cut = da > 0 && db > 0 ? NaN : a + (da / (da - db)) * (b - a);
      found.push({
        x0: da > 0 ? a : cut,
        x1: db > 0 ? b : cut,
        segment: segment[i] as number,
      });
    }
  }
  return found;
}

/** The first piece that ends at or after x. */
function firstReaching(pieces: readonly FrontPiece[], x: number): number {
  let [low, high] = [0, pieces.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((pieces[middle] as FrontPiece).x1 < x) low = middle + 1;
    else high = middle;
  }
  return low;
}
