/** A leg's pace count: one count throughout, or one for each slope along the profile. */
import type { Profile } from "../terrain/profile.ts";
import { paceCounter } from "../travel/paces-on-slope.ts";
import { pacesFor } from "../travel/paces.ts";
import type { LegSettings } from "./leg-settings.ts";

export interface PaceFigures {
  /** Whole paces from the start of the leg to a distance along it, metres. */
  readonly upTo: (distanceM: number) => number;
  readonly onSlope: boolean;
  readonly notes: readonly string[];
}

/** Whether the walker counts differently going up or down. */
export const countsOnSlope = ({
  pacesPer100m: flat,
  upPer100m: up,
  downPer100m: down,
}: Pick<LegSettings, "pacesPer100m" | "upPer100m" | "downPer100m">): boolean =>
  (up ?? flat) !== flat || (down ?? flat) !== flat;

/**
 * @param lengthM map distance of the leg
 * @throws Fault "bad-argument" for a count that cannot be
 */
export function paceFigures(
  profile: Profile,
  lengthM: number,
  settings: Pick<LegSettings, "pacesPer100m" | "upPer100m" | "downPer100m">,
): PaceFigures {
  const { pacesPer100m: flat, upPer100m, downPer100m } = settings;
  const even = (distanceM: number): number => pacesFor(distanceM, flat);
  if (!countsOnSlope(settings)) return { upTo: even, onSlope: false, notes: [] };
  const counter = paceCounter(profile, { flat, up: upPer100m ?? flat, down: downPer100m ?? flat });
  if (!counter)
    return {
      upTo: even,
      onSlope: false,
      notes: ["Paces are by the count for flat ground: the heights to tell up from down are missing."],
    };
  return {
    // A crossing at the very end may come out a rounding error beyond it.
    upTo: (distanceM) => Math.round(counter(Math.min(lengthM, Math.max(0, distanceM)))),
    onSlope: true,
    notes: [],
  };
}
