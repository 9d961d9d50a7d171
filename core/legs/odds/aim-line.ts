/** The line a target lies on, for walkers who come to it on one side on purpose and follow it to the target. */
import { square } from "./exact-math.ts";
import type { OddsAimOff } from "./scene.ts";

export interface AimLine {
  /** Which of the parts given it is. */
  readonly part: number;
  readonly st: Float64Array;
  /** Metres along the line at each of its places. */
  readonly along: Float64Array;
  /** Between these the target is in sight; both NaN when it is nowhere. */
  readonly seenFromM: number;
  readonly seenToM: number;
  /** 1 to turn right on reaching the line, −1 to turn left: towards the target for those who came in on the chosen side. */
  readonly turn: 1 | -1;
  readonly followM: number;
  /** Distance on a course from a place at which it meets the line, between two distances; null when it does not. */
  metOn(s: number, t: number, cos: number, sin: number, fromM: number, toM: number): number | null;
}

/** Null when there is no line. */
export function aimLine(
  { line, side, followM }: OddsAimOff,
  lengthM: number,
  sightM: number,
): AimLine | null {
  let [part, best, bestAlong] = [-1, Infinity, 0];
  for (const [i, { st }] of line.entries()) {
    let sum = 0;
    for (let k = 0; k + 3 < st.length; k += 2) {
      const [s, t] = [st[k] as number, st[k + 1] as number];
      const [ds, dt] = [(st[k + 2] as number) - s, (st[k + 3] as number) - t];
      const length = Math.sqrt(ds * ds + dt * dt);
      const f = length > 0 ? Math.min(1, Math.max(0, ((lengthM - s) * ds - t * dt) / (length * length))) : 0;
      const away = square(s + f * ds - lengthM) + square(t + f * dt);
      if (away < best) [part, best, bestAlong] = [i, away, sum + f * length];
      sum += length;
    }
  }
  const nearest = line[part];
  if (!nearest) return null;
  const st = Float64Array.from(nearest.st);
  const along = new Float64Array(st.length >> 1);
  for (let k = 1; k < along.length; k++) {
    const [ds, dt] = [
      (st[2 * k] as number) - (st[2 * k - 2] as number),
      (st[2 * k + 1] as number) - (st[2 * k - 1] as number),
    ];
    along[k] = (along[k - 1] as number) + Math.sqrt(ds * ds + dt * dt);
  }
  const total = along.at(-1) as number;
  const sees = (m: number): boolean => {
    const [s, t] = placeAlong(st, along, m);
    return square(s - lengthM) + square(t) <= sightM * sightM;
  };
  // Outwards from the nearest place in half metres, as far as the target stays in sight.
  const STEP_M = 0.5;
  let [low, high] = best <= sightM * sightM ? [bestAlong, bestAlong] : [NaN, NaN];
  while (low - STEP_M >= 0 && sees(low - STEP_M)) low -= STEP_M;
  while (high + STEP_M <= total && sees(high + STEP_M)) high += STEP_M;
  return {
    part,
    st,
    along,
    seenFromM: low,
    seenToM: high,
    turn: side === "left" ? 1 : -1,
    followM,
    metOn(s, t, cos, sin, fromM, toM) {
      let first: number | null = null;
      for (let k = 0; k + 3 < st.length; k += 2) {
        const [s0, t0] = [(st[k] as number) - s, (st[k + 1] as number) - t];
        const [s1, t1] = [(st[k + 2] as number) - s, (st[k + 3] as number) - t];
        const a = cos * t0 - sin * s0;
        const b = cos * t1 - sin * s1;
        if (a * b > 0 || a === b) continue;
        const f = a / (a - b);
        const distance = (s0 + f * (s1 - s0)) * cos + (t0 + f * (t1 - t0)) * sin;
        if (distance >= fromM && distance <= toM && (first === null || distance < first)) first = distance;
      }
      return first;
    },
  };
}

/** The place a number of metres along a line. */
export function placeAlong(
  st: Float64Array,
  along: Float64Array,
  m: number,
): readonly [s: number, t: number] {
  let [low, high] = [0, along.length - 2];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((along[middle] as number) <= m) low = middle;
    else high = middle - 1;
  }
  const start = along[low] as number;
  const length = (along[low + 1] as number) - start;
  const f = length > 0 ? Math.min(1, Math.max(0, (m - start) / length)) : 0;
  const [s, t] = [st[2 * low] as number, st[2 * low + 1] as number];
  return [s + f * ((st[2 * low + 2] as number) - s), t + f * ((st[2 * low + 3] as number) - t)];
}
