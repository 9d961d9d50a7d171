/**
 * Paces along a profile: uphill steps are shorter, so a count on the level falls short.
 * Common practice, no source for where a slope begins to count: 5° either way.
 */
import { Fault } from "../fault.ts";
import type { Profile } from "../terrain/profile.ts";
import { checkPacesPer100m } from "./paces.ts";
import { stretchesOf } from "./stretches.ts";

/** Paces per 100 m of map distance, calibrated on each kind of ground. */
export interface PaceCounts {
  readonly flat: number;
  readonly up: number;
  readonly down: number;
}

export const SLOPE_BEGINS_DEG = 5;

/**
 * Paces from the start to any distance along the leg, not rounded.
 * @returns null when any height is missing
 * @throws Fault "bad-argument" for a count that cannot be; the function itself for a distance off the leg
 */
export function paceCounter(
  profile: Pick<Profile, "distanceM" | "elevationM">,
  counts: PaceCounts,
  slopeBeginsDeg = SLOPE_BEGINS_DEG,
): ((distanceM: number) => number) | null {
  for (const count of [counts.flat, counts.up, counts.down]) checkPacesPer100m(count);
  const stretches = stretchesOf(profile);
  if (!stretches) return null;
  const slope = Math.tan((slopeBeginsDeg * Math.PI) / 180);
  const runM = stretches[0]?.runM ?? 0;
  const lengthM = runM * stretches.length;
  const per100m = stretches.map(({ riseM }) =>
    riseM > runM * slope ? counts.up : riseM < -runM * slope ? counts.down : counts.flat,
  );
  const upTo = [0];
  for (const count of per100m) upTo.push((upTo.at(-1) as number) + (count * runM) / 100);
  return (distanceM) => {
    if (!(distanceM >= 0 && distanceM <= lengthM + 1e-6))
      throw new Fault("bad-argument", `${distanceM} m is not on the leg, which is ${lengthM} m long.`);
    if (runM === 0) return 0;
    const i = Math.min(stretches.length - 1, Math.floor(distanceM / runM));
    return (upTo[i] as number) + ((per100m[i] as number) * (distanceM - i * runM)) / 100;
  };
}
