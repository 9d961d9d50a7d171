/** What walkers see of the target from the ways they walk. */
import { type AimLine, placeAlong } from "./aim-line.ts";
import { square } from "./exact-math.ts";

/** Square of the nearest distance from a place to the straight way from a to b. */
export function nearSegment(aS: number, aT: number, bS: number, bT: number, s: number, t: number): number {
  const [ds, dt] = [bS - aS, bT - aT];
  const whole = ds * ds + dt * dt;
  let f = whole > 0 ? ((s - aS) * ds + (t - aT) * dt) / whole : 0;
  f = f < 0 ? 0 : f > 1 ? 1 : f;
  return square(aS + f * ds - s) + square(aT + f * dt - t);
}

/**
 * A walker who has met the line aimed at turns the known way and follows it until the target is in sight, or as far as it
 * may be.
 * @returns whether the target was found, and where the walker is then
 */
export function followed(
  { st, along, turn, followM, seenFromM, seenToM }: AimLine,
  ends: Float64Array,
  segment: number,
  metS: number,
  metT: number,
  lengthM: number,
  sightM: number,
): readonly [found: boolean, s: number, t: number] {
  if (square(metS - lengthM) + metT * metT <= sightM * sightM) return [true, metS, metT];
  // The line aimed at is the first thing laid into the slabs: its segments are numbered as they follow each other.
  const [s0, t0] = [ends[4 * segment] as number, ends[4 * segment + 1] as number];
  const m = (along[segment] as number) + Math.sqrt(square(metS - s0) + square(metT - t0));
  const rightwards = (ends[4 * segment + 3] as number) >= t0 ? 1 : -1;
  const way = rightwards * turn;
  const toSight = way > 0 ? seenFromM - m : m - seenToM;
  const found = toSight >= 0 && toSight <= followM;
  const most = way > 0 ? (along.at(-1) as number) - m : m;
  const [s, t] = placeAlong(st, along, m + way * (found ? toSight : Math.min(followM, most)));
  return [found, s, t];
}
