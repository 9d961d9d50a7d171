/** A leg that is only being thought of: told while the pointer moves, before it is drawn. */
import { inverse } from "../geodesy/geodesic.ts";
import { legFrame } from "../geodesy/leg-frame.ts";
import { type Climb, climbOf } from "../terrain/climb.ts";
import { type Ground, prepareGround } from "../terrain/ground.ts";
import { profileOf } from "../terrain/leg-profile.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../units/position.ts";
import { climbThresholdM } from "./climb-threshold.ts";
import type { LegSettings } from "./leg-settings.ts";
import { LONGEST_SEARCHED_M } from "./search-box.ts";

/** Room for the heights beside the leg's ends. */
const MARGIN_M = 100;

/**
 * Climb and descent between two places, as the leg's own figures will have them.
 * @returns null where heights are missing, or the leg is longer than figures are worked out for
 * @throws Fault "cancelled"
 */
export async function climbBetween(
  ground: Ground,
  from: LonLat,
  to: LonLat,
  settings: Pick<LegSettings, "climbThresholdM">,
  signal?: AbortSignal,
): Promise<Climb | null> {
  const { distanceM } = inverse(from, to);
  if (distanceM === 0 || distanceM > LONGEST_SEARCHED_M) return null;
  await prepareGround(ground, growBbox(bboxOf([from, to]) as Bbox, MARGIN_M), signal);
  const profile = profileOf(ground, legFrame(from, to));
  return climbOf(profile, climbThresholdM(settings, ground.map.info.interval));
}
