/** Measuring along lines laid into a leg's frame, and casting rays at them. */
import { DEG } from "../../units/angle.ts";
import { type FramedLine, nearestOn } from "./framed-line.ts";

/** A point of the frame: metres along the leg, metres to the right of it. */
export interface St {
  readonly s: number;
  readonly t: number;
}

const alongs = new WeakMap<FramedLine, Float64Array>();

/** Metres along the line to each of its vertices; worked out once a line. */
export function alongOf(framed: FramedLine): Float64Array {
  const known = alongs.get(framed);
  if (known) return known;
  const { st, count } = framed;
  const along = new Float64Array(count);
  for (let i = 1; i < count; i++)
    along[i] =
      (along[i - 1] as number) +
      Math.hypot(
        (st[2 * i] as number) - (st[2 * i - 2] as number),
        (st[2 * i + 1] as number) - (st[2 * i - 1] as number),
      );
  alongs.set(framed, along);
  return along;
}

export const lengthOf = (framed: FramedLine): number => alongOf(framed)[framed.count - 1] as number;

/** Metres along the line to a place on it (see framed-line.ts). */
export function alongAt(framed: FramedLine, place: number): number {
  const along = alongOf(framed);
  const i = Math.min(framed.count - 2, Math.max(0, Math.floor(place)));
  return (along[i] as number) + (place - i) * ((along[i + 1] as number) - (along[i] as number));
}

/** The place so many metres along the line; its ends beyond them. */
export function placeAlong(framed: FramedLine, metres: number): number {
  const along = alongOf(framed);
  const last = framed.count - 1;
  if (metres <= 0) return 0;
  if (metres >= (along[last] as number)) return last;
  let [low, high] = [0, last - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((along[middle] as number) <= metres) low = middle;
    else high = middle - 1;
  }
  const start = along[low] as number;
  const length = (along[low + 1] as number) - start;
  return low + (length > 0 ? (metres - start) / length : 0);
}

export function pointAt({ st, count }: FramedLine, place: number): St {
  const i = Math.min(count - 2, Math.max(0, Math.floor(place)));
  const f = place - i;
  const s = st[2 * i] as number;
  const t = st[2 * i + 1] as number;
  return { s: s + f * ((st[2 * i + 2] as number) - s), t: t + f * ((st[2 * i + 3] as number) - t) };
}

export const pointAlong = (framed: FramedLine, metres: number): St =>
  pointAt(framed, placeAlong(framed, metres));

/** The nearest place on a line and how far off it is, metres. */
export const nearestPlace = (
  framed: FramedLine,
  { s, t }: St,
): { readonly place: number; readonly offM: number } => nearestOn(framed, s, t);

/** Whether the box around a line comes within a distance of a point. */
export const isNear = ({ minS, maxS, minT, maxT }: FramedLine, { s, t }: St, withinM: number): boolean =>
  minS - withinM <= s && s <= maxS + withinM && minT - withinM <= t && t <= maxT + withinM;

/** A ring: its ends are one place. */
export const isRing = ({ st, count }: FramedLine): boolean =>
  count > 3 &&
  Math.hypot(
    (st[0] as number) - (st[2 * count - 2] as number),
    (st[1] as number) - (st[2 * count - 1] as number),
  ) < 0.5;

/** Direction of a line about so many metres along it, as the chord over `chordM` to either side. */
export function chordAt(framed: FramedLine, metres: number, chordM: number): St {
  const a = pointAlong(framed, metres - chordM);
  const b = pointAlong(framed, metres + chordM);
  return { s: b.s - a.s, t: b.t - a.t };
}

/** Angle between two undirected lines, 0–90°. */
export function angleBetween(a: St, b: St): number {
  const cross = Math.abs(a.s * b.t - a.t * b.s);
  return Math.atan2(cross, Math.abs(a.s * b.s + a.t * b.t)) / DEG;
}

/** Change of direction from one vector to the next, 0–180°. */
export const turnBetween = (a: St, b: St): number =>
  Math.abs(Math.atan2(a.s * b.t - a.t * b.s, a.s * b.s + a.t * b.t)) / DEG;

export const apartM = (a: St, b: St): number => Math.hypot(a.s - b.s, a.t - b.t);

export interface RayHit {
  readonly distanceM: number;
  readonly place: number;
  readonly crossingDeg: number;
}

/**
 * Where a ray first meets a line, from `fromM` to `toM` along the ray; null when it does not.
 * @param cos,sin the ray's direction, a unit vector along s and t
 */
export function castRay(
  framed: FramedLine,
  { s, t }: St,
  cos: number,
  sin: number,
  fromM: number,
  toM: number,
): RayHit | null {
  const { st, count } = framed;
  let hit: RayHit | null = null;
  let b = ((st[1] as number) - t) * cos - ((st[0] as number) - s) * sin;
  for (let i = 0; i + 1 < count; i++) {
    const a = b;
    const bs = (st[2 * i + 2] as number) - s;
    const bt = (st[2 * i + 3] as number) - t;
    b = bt * cos - bs * sin;
    if (a * b > 0 || a === b) continue;
    const as = (st[2 * i] as number) - s;
    const at = (st[2 * i + 1] as number) - t;
    const f = a / (a - b);
    const distanceM = (as + f * (bs - as)) * cos + (at + f * (bt - at)) * sin;
    if (distanceM < fromM || distanceM > toM || (hit && hit.distanceM <= distanceM)) continue;
    const across = Math.abs(b - a) / Math.hypot(bs - as, bt - at);
    hit = { distanceM, place: i + f, crossingDeg: Math.asin(Math.min(1, across)) / DEG };
  }
  return hit;
}

/** Whether the straight way between two points meets a line. */
export function meets(framed: FramedLine, a: St, b: St): boolean {
  if (
    framed.maxS < Math.min(a.s, b.s) ||
    framed.minS > Math.max(a.s, b.s) ||
    framed.maxT < Math.min(a.t, b.t) ||
    framed.minT > Math.max(a.t, b.t)
  )
    return false;
  const length = apartM(a, b);
  return length > 0 && castRay(framed, a, (b.s - a.s) / length, (b.t - a.t) / length, 0, length) !== null;
}
