/** The latest moment to turn round and walk the same way back. */
import { turnBackBy } from "../../travel/daylight.ts";

/** Time to walk a leg and to walk it back, seconds. */
export interface WayAndBack {
  readonly timeS: number;
  readonly timeBackS: number;
}

/**
 * Milliseconds of UTC by which to turn round so as to be back at the start by a given instant, whatever point of the walk is
 * reached then. Within a leg time out and back pass evenly. At the end of the walk one may wait: then it is the time to set out
 * for the way back.
 * @returns null when there is no time at all
 */
export function turningBackMs(startMs: number, backByMs: number, legs: readonly WayAndBack[]): number | null {
  if (!(backByMs > startMs)) return null;
  let out = startMs;
  let backS = 0;
  for (const { timeS, timeBackS } of legs) {
    // What is left for this leg's way out and back once the legs before it are walked back.
    const limit = backByMs - backS * 1000;
    if (out + (timeS + timeBackS) * 1000 > limit)
      return limit > out ? turnBackBy(out, limit, timeBackS / timeS) : out;
    out += timeS * 1000;
    backS += timeBackS;
  }
  return backByMs - backS * 1000;
}
