/** Distance over the slope, and the steepest stretch, along a profile. */
import { Fault } from "../fault.ts";
import { DEG } from "../units/angle.ts";
import type { Profile } from "./profile.ts";

type Heights = Pick<Profile, "distanceM" | "elevationM">;

/** Length along the ground, metres: the sum over the profile's straight stretches. Null when any height is missing. */
export function slopeDistanceOf({ distanceM, elevationM }: Heights): number | null {
  let sum = 0;
  if (elevationM.length === 0 || Number.isNaN(elevationM[0])) return null;
  for (let i = 1; i < distanceM.length; i++)
    sum += Math.hypot(
      (distanceM[i] as number) - (distanceM[i - 1] as number),
      (elevationM[i] as number) - (elevationM[i - 1] as number),
    );
  return Number.isNaN(sum) ? null : sum;
}

export interface SteepStretch {
  /** Mean slope over the stretch, degrees, 0–90, up or down alike. */
  readonly deg: number;
  readonly fromM: number;
  readonly toM: number;
  /** Whether it climbs in the direction of walking. */
  readonly up: boolean;
}

/**
 * The steepest stretch of a given length: rise over run of every window of that length that begins or ends at a
 * sample, which on a profile of straight stretches includes the steepest there is.
 * @param overM length of the stretch, metres; a shorter leg is taken as a whole
 * @returns null when any height is missing or the leg has no length
 * @throws Fault "bad-argument" when overM is not positive
 */
export function steepestStretchOf({ distanceM, elevationM }: Heights, overM = 20): SteepStretch | null {
  if (!(overM > 0)) throw new Fault("bad-argument", "A steepest stretch needs a length above 0 m.");
  const n = distanceM.length;
  const lengthM = n > 0 ? (distanceM[n - 1] as number) : 0;
  if (!(lengthM > 0) || elevationM.some((h) => Number.isNaN(h))) return null;
  const span = Math.min(overM, lengthM);
  let best = 0;
  let fromM = 0;
  // Two pointers: where the window's far end lies when it begins at a sample, and its near end when it ends at one.
  let ahead = 0;
  let behind = 0;
  const heightAt = (d: number, after: number): number => {
    const d0 = distanceM[after - 1] as number;
    const d1 = distanceM[after] as number;
    const h0 = elevationM[after - 1] as number;
    return d1 > d0 ? h0 + (((elevationM[after] as number) - h0) * (d - d0)) / (d1 - d0) : h0;
  };
  for (let i = 0; i < n; i++) {
    const d = distanceM[i] as number;
    const h = elevationM[i] as number;
    if (d + span <= lengthM) {
      while (ahead < n - 1 && (distanceM[ahead] as number) < d + span) ahead++;
      const rise = heightAt(d + span, Math.max(1, ahead)) - h;
      if (Math.abs(rise) > Math.abs(best)) [best, fromM] = [rise, d];
    }
    if (d - span >= 0) {
      while (behind < n - 1 && (distanceM[behind] as number) < d - span) behind++;
      const rise = h - heightAt(d - span, Math.max(1, behind));
      if (Math.abs(rise) > Math.abs(best)) [best, fromM] = [rise, d - span];
    }
  }
  return { deg: Math.atan(Math.abs(best) / span) / DEG, fromM, toM: fromM + span, up: best >= 0 };
}

/** Slope of the steepest stretch, degrees, 0–90, up or down alike; null as `steepestStretchOf`. */
export function steepestOf(profile: Heights, overM = 20): number | null {
  return steepestStretchOf(profile, overM)?.deg ?? null;
}
