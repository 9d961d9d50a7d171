import { Fault } from "../fault.ts";

/** A pace count per 100 m, if it is one. Steps of 20 cm to 5 m are the widest that can be meant. */
export function checkPacesPer100m(per100m: number): number {
  if (!(per100m >= 20 && per100m <= 500))
    throw new Fault(
      "bad-argument",
      `${per100m} paces per 100 m cannot be: a count lies between 20 and 500.`,
      null,
      "Walk 100 m and count; 60 to 70 double paces are usual.",
    );
  return per100m;
}

/**
 * Paces over a distance, rounded to a whole pace.
 * @param distanceM metres
 * @param per100m the walker's count per 100 m
 * @throws Fault "bad-argument" for a distance that is negative or not finite, or a count that cannot be
 */
export function pacesFor(distanceM: number, per100m: number): number {
  checkPacesPer100m(per100m);
  if (!(distanceM >= 0 && distanceM < Infinity))
    throw new Fault("bad-argument", `A distance must be 0 or more, not ${distanceM} m.`);
  return Math.round((distanceM * per100m) / 100);
}
