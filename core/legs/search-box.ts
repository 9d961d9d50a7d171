import { bboxOf, growBbox, type Bbox, type LonLat } from "../units/position.ts";
import { DEG, trueBearing } from "../units/angle.ts";
import { direct, inverse } from "../geodesy/geodesic.ts";
import type { LegSettings } from "./leg-settings.ts";

/** Longer legs are not looked up on the map: nobody walks one, and its box could hold thousands of tiles. */
export const LONGEST_SEARCHED_M = 25_000;

/** Room for the chord that gives a line's direction, and for lines that leave the strip for a moment. */
const MARGIN_M = 50;

/**
 * The box that holds all a leg's figures look at: the strip for handrails and the drift cone as far as the backstop's reach.
 * A leg across ±180° gets the box on its start's side of it only.
 * @throws Fault "bad-argument" for a position that is none
 */
export function legSearchBox(
  from: LonLat,
  to: LonLat,
  settings: Pick<LegSettings, "handrailOffsetM" | "driftDeg" | "backstopReachM">,
): Bbox {
  const { distanceM, bearing } = inverse(from, to);
  const corners: LonLat[] = [from, to];
  if (distanceM > 0) {
    const farM = (distanceM + settings.backstopReachM) / Math.cos(Math.min(80, settings.driftDeg) * DEG);
    for (const turn of [-settings.driftDeg, 0, settings.driftDeg])
      corners.push(direct(from, trueBearing(bearing + turn), farM));
  }
  // Longitudes on the far side of ±180° are clamped to it: no box spans it, and no map does.
  const unrolled = corners.map(([lon, lat]): LonLat => [
    lon - from[0] > 180 ? -180 : from[0] - lon > 180 ? 180 : lon,
    lat,
  ]);
  return growBbox(bboxOf(unrolled) as Bbox, settings.handrailOffsetM + MARGIN_M);
}
