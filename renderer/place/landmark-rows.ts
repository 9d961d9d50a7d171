/** Landmarks as they are listed and drawn: bearing, distance, and whether one lies nearly ahead on a leg. Pure. */
import { legFrame } from "../../core/geodesy/leg-frame.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { Landmark, Landmarks } from "../worker/ground-questions.ts";

/** More lines than these cannot be told apart on a map; more hidden ones nobody reads. */
export const MOST_IN_VIEW = 9;
export const MOST_HIDDEN = 5;
/** So far off the leg's line a landmark still helps to keep it, degrees. No source. */
const AHEAD_DEG = 5;
/** Standing this near to the leg's line one is on it, metres. No source. */
const ON_LEG_M = 30;

export interface LandmarkGroups {
  readonly inView: readonly Landmark[];
  readonly notKnown: readonly Landmark[];
  readonly hidden: readonly Landmark[];
  /** How many the lists leave out. */
  readonly more: number;
}

export function landmarkGroups({ found, named }: Landmarks): LandmarkGroups {
  const those = (visible: boolean | null): Landmark[] =>
    found.filter(({ sight }) => sight.targetVisible === visible);
  const inView = those(true).slice(0, MOST_IN_VIEW);
  const notKnown = those(null).slice(0, MOST_HIDDEN);
  const hidden = those(false).slice(0, MOST_HIDDEN);
  return { inView, notKnown, hidden, more: named - inView.length - notKnown.length - hidden.length };
}

export interface LegAhead {
  /** Place in the walk, from 1. */
  readonly n: number;
  readonly fromLonLat: LonLat;
  readonly toLonLat: LonLat;
  readonly bearingTrueDeg: number | null;
}

/**
 * How far to the right of the way on a leg a landmark lies, degrees, left negative; null when it is not nearly ahead, or
 * when the place looked from is not on the leg.
 */
export function offAhead(
  from: LonLat,
  leg: LegAhead | null,
  { bearing }: Pick<Landmark, "bearing">,
): number | null {
  if (!leg || leg.bearingTrueDeg === null) return null;
  const frame = legFrame(leg.fromLonLat, leg.toLonLat);
  const [s, t] = frame.toFrame(from);
  // At the leg's end one no longer walks it.
  if (Math.abs(t) > ON_LEG_M || s < -ON_LEG_M || s > frame.lengthM - ON_LEG_M) return null;
  const off = ((bearing - leg.bearingTrueDeg + 540) % 360) - 180;
  return Math.abs(off) <= AHEAD_DEG ? off : null;
}
