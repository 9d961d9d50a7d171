/**
 * Climb and descent along a profile: only rises and falls of at least a threshold count, so that noise in the
 * heights does not add up. From one turning point to the next the whole of the rise or fall counts.
 */
import { Fault } from "../fault.ts";
import type { Profile } from "./profile.ts";

export interface Climb {
  /** Sum of rises, metres, ≥ 0. */
  readonly climbM: number;
  /** Sum of falls, metres, ≥ 0. */
  readonly descentM: number;
}

/** Climb and descent as they add up along the profile: one value for each of its places, never falling. */
export interface ClimbSoFar {
  readonly climbM: Float64Array;
  readonly descentM: Float64Array;
}

type Heights = Pick<Profile, "elevationM">;

/**
 * @param thresholdM a reversal smaller than this is passed over; 0 counts every one
 * @returns null when any height is missing: a sum with a hole in it is no climb
 * @throws Fault "bad-argument" for a threshold that is negative or no number
 */
export function climbOf({ elevationM }: Heights, thresholdM: number): Climb | null {
  const turns = turningPlaces(elevationM, thresholdM);
  if (!turns || elevationM.length === 0) return null;
  let climbM = 0;
  let descentM = 0;
  for (let k = 1; k < turns.length; k++) {
    const rise = (elevationM[turns[k] as number] as number) - (elevationM[turns[k - 1] as number] as number);
    if (rise > 0) climbM += rise;
    else descentM -= rise;
  }
  return { climbM, descentM };
}

/**
 * The climb and descent of `climbOf` as they have added up at each place; at the last place they are its sums. Within a
 * counted rise a smaller dip stands still.
 * @returns null as `climbOf`
 * @throws Fault as `climbOf`
 */
export function climbSoFar({ elevationM }: Heights, thresholdM: number): ClimbSoFar | null {
  const turns = turningPlaces(elevationM, thresholdM);
  const n = elevationM.length;
  if (!turns || n === 0) return null;
  const climbM = new Float64Array(n);
  const descentM = new Float64Array(n);
  let [up, down] = [0, 0];
  for (let k = 1; k < turns.length; k++) {
    const [first, last] = [turns[k - 1] as number, turns[k] as number];
    const start = elevationM[first] as number;
    const sense = (elevationM[last] as number) > start ? 1 : -1;
    let most = 0;
    for (let i = first + 1; i <= last; i++) {
      most = Math.max(most, sense * ((elevationM[i] as number) - start));
      climbM[i] = sense > 0 ? up + most : up;
      descentM[i] = sense < 0 ? down + most : down;
    }
    if (sense > 0) up += most;
    else down += most;
  }
  const end = turns.at(-1) ?? 0;
  climbM.fill(up, end);
  descentM.fill(down, end);
  return { climbM, descentM };
}

/**
 * Lowest and highest places by turns, from each of which to the next the ground rises or falls by the threshold or more:
 * as numbers in the heights, rising; none when it nowhere does.
 * @returns null when any height is missing
 * @throws Fault as `climbOf`
 */
export function turningPlaces(heights: Float64Array, thresholdM: number): number[] | null {
  if (!(thresholdM >= 0)) throw new Fault("bad-argument", "The threshold for climb must be 0 m or more.");
  const turns: number[] = [];
  // The lowest and the highest place since the last turn.
  let low = 0;
  let high = 0;
  let trend: -1 | 0 | 1 = 0;
  for (let i = 0; i < heights.length; i++) {
    const h = heights[i] as number;
    if (Number.isNaN(h)) return null;
    if (h > (heights[high] as number)) high = i;
    if (h < (heights[low] as number)) low = i;
    const rise = h - (heights[low] as number);
    const fall = (heights[high] as number) - h;
    if (trend <= 0 && rise > 0 && rise >= thresholdM) {
      // At the first turn: what lies between the start and the low fell by less than the threshold, and is passed over.
      turns.push(low);
      high = i;
      trend = 1;
    } else if (trend >= 0 && fall > 0 && fall >= thresholdM) {
      turns.push(high);
      low = i;
      trend = -1;
    }
  }
  if (trend !== 0) turns.push(trend > 0 ? high : low);
  return turns;
}
