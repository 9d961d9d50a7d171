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

/**
 * @param thresholdM a reversal smaller than this is passed over; 0 counts every one
 * @returns null when any height is missing: a sum with a hole in it is no climb
 * @throws Fault "bad-argument" for a threshold that is negative or no number
 */
export function climbOf(profile: Pick<Profile, "elevationM">, thresholdM: number): Climb | null {
  if (!(thresholdM >= 0)) throw new Fault("bad-argument", "The threshold for climb must be 0 m or more.");
  const heights = profile.elevationM;
  if (heights.length === 0) return null;
  let climbM = 0;
  let descentM = 0;
  // The last turning point, and the lowest and highest since it.
  let turn = heights[0] as number;
  let low = turn;
  let high = turn;
  let trend: -1 | 0 | 1 = 0;
  for (const h of heights) {
    if (Number.isNaN(h)) return null;
    if (h > high) high = h;
    if (h < low) low = h;
    if (trend <= 0 && h > low && h - low >= thresholdM) {
      // Before the first turn a fall smaller than the threshold may lie between the start and the low: passed over.
      if (trend < 0) descentM += turn - low;
      turn = low;
      high = h;
      trend = 1;
    } else if (trend >= 0 && h < high && high - h >= thresholdM) {
      if (trend > 0) climbM += high - turn;
      turn = high;
      low = h;
      trend = -1;
    }
  }
  if (trend > 0) climbM += high - turn;
  if (trend < 0) descentM += turn - low;
  return { climbM, descentM };
}
