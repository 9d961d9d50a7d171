/**
 * What a closed walk does not close by when it is walked exactly as written: bearings are rounded to the compass's marks and
 * lengths to whole metres, so the last leg ends beside the start. The setter knows by how much, and takes it off a learner's error.
 */
import { DEG, normalise360 } from "../units/angle.ts";

export interface WrittenLeg {
  /** Degrees from one north, the same for all legs. */
  readonly bearingDeg: number;
  readonly lengthM: number;
}

export interface ClosingError {
  /** From the start to where the walk ends, metres and degrees from the north of the legs. */
  readonly distanceM: number;
  readonly bearingDeg: number;
  readonly eastM: number;
  readonly northM: number;
}

/** A leg as it is written on the sheet. @param graduationDeg marks of the compass; @param stepM of the length */
export const written = (leg: WrittenLeg, graduationDeg: number, stepM: number): WrittenLeg => ({
  bearingDeg: normalise360(Math.round(leg.bearingDeg / graduationDeg) * graduationDeg),
  lengthM: Math.round(leg.lengthM / stepM) * stepM,
});

/** Sums of latitudes and departures, as in a compass traverse (plane surveying, from memory); legs of a few kilometres are flat enough. */
export function closingError(legs: readonly WrittenLeg[]): ClosingError {
  let [eastM, northM] = [0, 0];
  for (const { bearingDeg, lengthM } of legs) {
    eastM += lengthM * Math.sin(bearingDeg * DEG);
    northM += lengthM * Math.cos(bearingDeg * DEG);
  }
  const distanceM = Math.hypot(eastM, northM);
  const bearingDeg = normalise360(Math.atan2(eastM, northM) / DEG);
  return { distanceM, bearingDeg: distanceM < 1e-9 ? 0 : bearingDeg, eastM, northM };
}
