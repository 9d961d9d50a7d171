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
  const heights = h.subarray(first, last + 1);
  const most = Math.min(MOST, FEWEST + Math.floor(lengthM / PER_M));
  let toleranceM = Math.max(LEAST_M, errorM ?? 0, SHARE * (Math.max(...heights) - Math.min(...heights)));
  for (;;) {
    const found = merged(piecesOf(d, h, first, last, toleranceM), d, h);
    if (found.length <= most) return found;
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
function merged(ends: readonly number[], d: Float64Array, h: Float64Array): Trend[] {
  const at = [...ends];
  const piece = (i: number): Trend => trend(d, h, at[i]!, at[i + 1]!);
  for (let i = 0; at.length > 2 && i < at.length - 1; i++) {
    const here = piece(i);
    if (here.toM - here.fromM >= SHORTEST_M) continue;
    const before = i > 0 ? Math.abs(piece(i - 1).slopeDeg - here.slopeDeg) : Infinity;
    const after = i < at.length - 2 ? Math.abs(piece(i + 1).slopeDeg - here.slopeDeg) : Infinity;
    at.splice(before <= after ? i : i + 1, 1);
    i = Math.max(-1, i - 2);
  }
  for (let i = 0; i < at.length - 2;) {
    const [a, b] = [piece(i), piece(i + 1)];
    const same = a.grade === b.grade && (a.grade === "level" || a.riseM > 0 === b.riseM > 0);
    if (same) at.splice(i + 1, 1);
    else i++;
  }
  return at.slice(1).map((_, i) => piece(i));
}

function trend(d: Float64Array, h: Float64Array, a: number, b: number): Trend {
  const [fromM, toM, riseM] = [d[a]!, d[b]!, h[b]! - h[a]!];
  const slopeDeg = Math.atan(riseM / (toM - fromM)) / DEG;
  const heights = h.subarray(a, b + 1);
  const unevenM = Math.max(...heights) - Math.min(...heights) - Math.abs(riseM);
  return { fromM, toM, riseM, slopeDeg, grade: gradeOf(slopeDeg), unevenM };
}
