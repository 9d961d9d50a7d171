/** The ground along the legs of a walk, as a track with heights. */
import { direct } from "../geodesy/geodesic.ts";
import type { LegFigures } from "../legs/figures.ts";
import type { TrueBearing } from "../units/angle.ts";
import type { TrackPlace } from "./parts.ts";

/** Places of a leg lie at least so far apart, metres: finer than most elevation models, coarser than a step. No source. */
const APART_M = 10;

const known = (height: number | undefined): number | null =>
  height === undefined || Number.isNaN(height) ? null : height;

/**
 * Each leg's profile, from its start to its end, on the geodesic it is walked on.
 * @param legs in order; none gives no places
 */
export function groundTrack(legs: readonly LegFigures[]): TrackPlace[] {
  const places: TrackPlace[] = [];
  for (const [n, { fromLonLat, toLonLat, bearingTrueDeg, profile }] of legs.entries()) {
    const { distanceM, elevationM } = profile;
    // A leg without a bearing leads nowhere: its two ends are all of it.
    const last = bearingTrueDeg === null ? 0 : distanceM.length - 1;
    // The end of one leg is the start of the next.
    if (n === 0) places.push({ lonLat: fromLonLat, heightM: known(elevationM[0]) });
    let from = 0;
    for (let i = 1; i < last; i++) {
      const at = distanceM[i] as number;
      if (at - from < APART_M || (distanceM[last] as number) - at < APART_M) continue;
      from = at;
      places.push({
        lonLat: direct(fromLonLat, bearingTrueDeg as TrueBearing, at),
        heightM: known(elevationM[i]),
      });
    }
    places.push({ lonLat: toLonLat, heightM: known(elevationM[last]) });
  }
  return places;
}

/** Heights of the points of a walk of these legs, metres; as many as there are points. */
export function pointHeights(legs: readonly LegFigures[]): (number | null)[] {
  const [first] = legs;
  if (!first) return [];
  return [
    known(first.profile.elevationM[0]),
    ...legs.map(({ profile }) => known(profile.elevationM[profile.elevationM.length - 1])),
  ];
}
