/** How much of a leg is how steep. */
import { Fault } from "../fault.ts";
import { DEG } from "../units/angle.ts";
import { evenRuns } from "./even-runs.ts";
import type { Profile } from "./profile.ts";

export interface SlopeClass {
  /** Slopes from this on, degrees … */
  readonly fromDeg: number;
  /** … and below this; null in the steepest class. */
  readonly toDeg: number | null;
  /** Map distance within the class, metres. */
  readonly lengthM: number;
  /** Of that, upward and downward in the direction of walking, metres; level ground is in neither. */
  readonly upM: number;
  readonly downM: number;
}

export interface SlopeClasses {
  readonly classes: readonly SlopeClass[];
  /** Map distance without heights, metres. */
  readonly unknownM: number;
}

/** Where one class ends and the next begins, degrees: chosen for walking, no source. */
export const SLOPE_BOUNDS_DEG: readonly number[] = [5, 10, 20, 30];

/** Slope is that of stretches so long, as for the steepest stretch. */
const OVER_M = 20;
/** Slopes are told apart to this: on a plane heights differ from it by rounding. */
const LEVEL = 1e-9;

/**
 * Lengths of a profile by the slope of its stretches of about 20 m, up and down alike. They and the unknown length add
 * up to the leg's.
 * @param boundsDeg rising, above 0 and below 90
 * @throws Fault "bad-argument" for other bounds
 */
export function slopeClasses(
  profile: Pick<Profile, "distanceM" | "elevationM">,
  boundsDeg: readonly number[] = SLOPE_BOUNDS_DEG,
): SlopeClasses {
  if (!boundsDeg.every((b, i) => b > (boundsDeg[i - 1] ?? 0) && b < 90))
    throw new Fault("bad-argument", "Bounds of slope classes must rise, from above 0° to below 90°.");
  const upM = new Float64Array(boundsDeg.length + 1);
  const downM = new Float64Array(boundsDeg.length + 1);
  const levelM = new Float64Array(boundsDeg.length + 1);
  let knownM = 0;
  for (const { heightsM, stepM } of evenRuns(profile, OVER_M))
    for (let i = 1; i < heightsM.length; i++) {
      const rise = (heightsM[i] as number) - (heightsM[i - 1] as number);
      const deg = Math.atan(Math.abs(rise) / stepM) / DEG;
      let k = 0;
      while (k < boundsDeg.length && deg >= (boundsDeg[k] as number) - LEVEL) k++;
      const side = rise > LEVEL ? upM : rise < -LEVEL ? downM : levelM;
      side[k] = (side[k] as number) + stepM;
      knownM += stepM;
    }
  const lengthM = profile.distanceM.at(-1) ?? 0;
  return {
    classes: Array.from(upM, (up, k) => ({
      fromDeg: boundsDeg[k - 1] ?? 0,
      toDeg: boundsDeg[k] ?? null,
      lengthM: up + (downM[k] as number) + (levelM[k] as number),
      upM: up,
      downM: downM[k] as number,
    })),
    unknownM: Math.max(0, lengthM - knownM),
  };
}
