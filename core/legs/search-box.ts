import { bboxOf, growBbox, unionBbox, type Bbox, type LonLat } from "../units/position.ts";
import { DEG, trueBearing } from "../units/angle.ts";
import { direct, inverse } from "../geodesy/geodesic.ts";
import { LANDFORM_REACH_M } from "../terrain/landforms/landform.ts";
import type { LegSettings } from "./leg-settings.ts";

/** Longer legs are not looked up on the map: nobody walks one, and its box could hold thousands of tiles. */
export const LONGEST_SEARCHED_M = 25_000;

/** Room for the chord that gives a line's direction, and for lines that leave the strip for a moment. */
const MARGIN_M = 50;

type BoxSettings = Pick<LegSettings, "handrailOffsetM" | "driftDeg" | "backstopReachM">;

/**
 * The box that holds all a leg's figures look at, to be prepared before they are worked out: that of its lines, and the
 * ground around it as far as landforms are read.
 * @throws Fault "bad-argument" for a position that is none
 */
export function legSearchBox(from: LonLat, to: LonLat, settings: BoxSettings): Bbox {
  return unionBbox(
    legLinesBox(from, to, settings),
    growBbox(bboxOf([from, unrolled(from, to)]) as Bbox, LANDFORM_REACH_M),
  );
}

/** Longitudes on the far side of ±180° are clamped to it: no box spans it, and no map does. */
const unrolled = (from: LonLat, [lon, lat]: LonLat): LonLat => [
  lon - from[0] > 180 ? -180 : from[0] - lon > 180 ? 180 : lon,
  lat,
];

/**
 * The box of the lines a leg's figures look at: the strip for handrails and the drift cone as far as the backstop's reach.
 * A leg across ±180° gets the box on its start's side of it only.
 * @throws Fault "bad-argument" for a position that is none
 */
export function legLinesBox(from: LonLat, to: LonLat, settings: BoxSettings): Bbox {
  const { distanceM, bearing } = inverse(from, to);
  const corners: LonLat[] = [from, to];
  if (distanceM > 0) {
    const farM = (distanceM + settings.backstopReachM) / Math.cos(Math.min(80, settings.driftDeg) * DEG);
    for (const turn of [-settings.driftDeg, 0, settings.driftDeg])
      corners.push(direct(from, trueBearing(bearing + turn), farM));
  }
  const near = corners.map((corner) => unrolled(from, corner));
  return growBbox(bboxOf(near) as Bbox, settings.handrailOffsetM + MARGIN_M);
}
