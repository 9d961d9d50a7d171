/** The run of the ground along a leg in a few straight pieces: climbs, falls and level stretches. */
import type { Profile } from "../../terrain/profile.ts";
import { DEG } from "../../units/angle.ts";

export type Grade = "level" | "gentle" | "steady" | "steep" | "very steep";

export interface Trend {
  readonly fromM: number;
  readonly toM: number;
  /** From end to end, metres; negative on a fall. */
  readonly riseM: number;
  /** Mean slope, degrees; negative on a fall. */
  readonly slopeDeg: number;
  readonly grade: Grade;
  /** How far the ground goes up and down on the way besides, metres: its whole range less the rise. */
  readonly unevenM: number;
}

/** Upper bounds of the grades, degrees. No source. */
const GRADES: readonly (readonly [belowDeg: number, grade: Grade])[] = [
  [2, "level"],
  [6, "gentle"],
  [13, "steady"],
  [25, "steep"],
];
/** Unevenness smaller than this is no trend: so much, and such a share of all the leg rises, metres. No source. */
const LEAST_M = 4;
const SHARE = 0.05;
/** A piece shorter than this belongs to a neighbour, metres. No source. */
const SHORTEST_M = 80;
/** A leg has no more pieces than this, and one more for every so many metres. No source. */
const FEWEST = 3;
const PER_M = 300;
const MOST = 9;

const gradeOf = (deg: number): Grade => GRADES.find(([below]) => Math.abs(deg) < below)?.[1] ?? "very steep";

type Heights = Pick<Profile, "distanceM" | "elevationM" | "errorM">;

/**
 * Straight pieces that stay within a tolerance of the ground (after D. Douglas and T. Peucker 1973), coarse enough to be
 * told in a few sentences. Stretches without heights have none.
 */
export function trendsOf(profile: Heights): Trend[] {
  return runsOf(profile).flatMap(([first, last]) => trendsIn(profile, first, last));
}

/** Index ranges with heights. */
function runsOf({ elevationM }: Heights): (readonly [number, number])[] {
  const runs: (readonly [number, number])[] = [];
  for (let i = 0; i < elevationM.length; i++) {
    if (Number.isNaN(elevationM[i])) continue;
    const start = i;
    while (i + 1 < elevationM.length && !Number.isNaN(elevationM[i + 1])) i++;
    if (i > start) runs.push([start, i]);
  }
  return runs;
}

function trendsIn(profile: Heights, first: number, last: number): Trend[] {
  const { distanceM: d, elevationM: h, errorM } = profile;
  const lengthM = d[last]! - d[first]!;
  if (!(lengthM > 0)) return [];
  const most = Math.min(MOST, FEWEST + Math.floor(lengthM / PER_M));
  let toleranceM = Math.max(LEAST_M, errorM ?? 0, SHARE * rangeOf(h, first, last));
  for (;;) {
    const ends = mergedEnds(piecesOf(d, h, first, last, toleranceM), d, h);
    if (ends.length <= most + 1) return ends.slice(1).map((end, i) => trend(d, h, ends[i]!, end));
    toleranceM *= 1.3;
  }
}

function piecesOf(
  d: Float64Array,
  h: Float64Array,
  first: number,
  last: number,
  toleranceM: number,
): number[] {
  const ends = [first];
  const split = (a: number, b: number): void => {
    const slope = (h[b]! - h[a]!) / (d[b]! - d[a]!);
    let [worst, at] = [toleranceM, -1];
    for (let i = a + 1; i < b; i++) {
      const off = Math.abs(h[i]! - h[a]! - slope * (d[i]! - d[a]!));
      if (off > worst) [worst, at] = [off, i];
    }
    if (at < 0) ends.push(b);
    else {
      split(a, at);
      split(at, b);
    }
  };
  split(first, last);
  return ends;
}

/** Neighbours of one grade and way are one piece, and short ones go to the neighbour whose slope is nearer. */
function mergedEnds(ends: readonly number[], d: Float64Array, h: Float64Array): number[] {
  const at = [...ends];
  const slopeDeg = (i: number): number =>
    Math.atan((h[at[i + 1]!]! - h[at[i]!]!) / (d[at[i + 1]!]! - d[at[i]!]!)) / DEG;
  for (let i = 0; at.length > 2 && i < at.length - 1; i++) {
    if (d[at[i + 1]!]! - d[at[i]!]! >= SHORTEST_M) continue;
    const here = slopeDeg(i);
    const before = i > 0 ? Math.abs(slopeDeg(i - 1) - here) : Infinity;
    const after = i < at.length - 2 ? Math.abs(slopeDeg(i + 1) - here) : Infinity;
    at.splice(before <= after ? i : i + 1, 1);
    i = Math.max(-1, i - 2);
  }
  for (let i = 0; i < at.length - 2;) {
    const [a, b] = [slopeDeg(i), slopeDeg(i + 1)];
    const grade = gradeOf(a);
    if (grade === gradeOf(b) && (grade === "level" || a > 0 === b > 0)) at.splice(i + 1, 1);
    else i++;
  }
  return at;
}

function trend(d: Float64Array, h: Float64Array, a: number, b: number): Trend {
  const [fromM, toM, riseM] = [d[a]!, d[b]!, h[b]! - h[a]!];
  const slopeDeg = Math.atan(riseM / (toM - fromM)) / DEG;
  return {
    fromM,
    toM,
    riseM,
    slopeDeg,
    grade: gradeOf(slopeDeg),
    unevenM: rangeOf(h, a, b) - Math.abs(riseM),
  };
}

function rangeOf(h: Float64Array, first: number, last: number): number {
  let [low, high] = [Infinity, -Infinity];
  for (let i = first; i <= last; i++) {
    low = Math.min(low, h[i]!);
    high = Math.max(high, h[i]!);
  }
  return high - low;
}
