/** Sight over prepared ground: between two places, and which of some named places can be seen from one. */
import { legFrame } from "../geodesy/leg-frame.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { DEG, type TrueBearing } from "../units/angle.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../units/position.ts";
import type { Ground } from "./ground.ts";
import { profileOf, sampledAt } from "./leg-profile.ts";
import { dropM, type Sight, sightAlong, SIGHT_SETTINGS, type SightSettings } from "./line-of-sight.ts";
import type { Profile } from "./profile.ts";

/** What has to be prepared to tell whether one place is seen from another: a geodesic bows out of the box of its ends. */
export function sightBox(from: LonLat, to: LonLat): Bbox {
  return growBbox(bboxOf([from, to]) as Bbox, 50 + inverse(from, to).distanceM ** 2 / 2e7);
}

/**
 * Whether one place is seen from another, over prepared ground (see `sightBox`): from terrain tiles along the geodesic,
 * sampled wherever their surface bends and no coarser than half their spacing up to some 20 km; else as
 * `sightAlong` makes of a profile from contours.
 * @throws Fault "bad-argument" for positions or settings that make no sense
 */
export function sightBetween(
  ground: Ground,
  from: LonLat,
  to: LonLat,
  settings: Partial<SightSettings> = {},
): Sight {
  return sightAlong(lineProfile(ground, from, to), settings);
}

/** A profile without the contours' crossings, which add nothing to heights from terrain. */
function lineProfile(
  ground: Ground,
  from: LonLat,
  to: LonLat,
): Pick<Profile, "distanceM" | "elevationM" | "errorM"> {
  const frame = legFrame(from, to);
  const { elevation } = ground;
  if (!elevation || Number.isNaN(elevation.at(from))) return profileOf(ground, frame);
  const distanceM = Float64Array.from(sampledAt(elevation, frame));
  const elevationM = distanceM.map((d) => elevation.at(d === 0 ? from : frame.toLonLat(d, 0)));
  const last = distanceM.length - 1;
  if (last > 0) elevationM[last] = elevation.at(to);
  return { distanceM, elevationM, errorM: null };
}

export interface NamedPlace {
  readonly name: string;
  readonly lonLat: LonLat;
}

export interface PlaceInView<P extends NamedPlace> {
  readonly place: P;
  readonly bearing: TrueBearing;
  readonly distanceM: number;
  /** Height of the place over the level at the eye, degrees, as it looks: below 0 one looks down. Null when not known. */
  readonly upDeg: number | null;
  readonly sight: Sight;
}

/**
 * Named places around a place: those in view first, then those of which it is not known, then those hidden; each group
 * nearest first. Places nearer than `fromM` or farther than `toM` are left out: on the first no bearing can be taken.
 * @param settings a target of 0 m unless given: the bare top of a hill must be in view
 */
export function placesInView<P extends NamedPlace>(
  ground: Ground,
  from: LonLat,
  places: readonly P[],
  { fromM = 50, toM = 20_000, ...settings }: Partial<SightSettings> & { fromM?: number; toM?: number } = {},
): PlaceInView<P>[] {
  const { refraction, eyeM, targetM } = { ...SIGHT_SETTINGS, targetM: 0, ...settings };
  const found: PlaceInView<P>[] = [];
  for (const place of places) {
    const { distanceM, bearing } = inverse(from, place.lonLat);
    if (distanceM < fromM || distanceM > toM) continue;
    const profile = lineProfile(ground, from, place.lonLat);
    const rise =
      (profile.elevationM.at(-1) ?? Number.NaN) +
      targetM -
      dropM(distanceM, refraction) -
      ((profile.elevationM[0] ?? Number.NaN) + eyeM);
    found.push({
      place,
      bearing,
      distanceM,
      upDeg: Number.isNaN(rise) ? null : Math.atan2(rise, distanceM) / DEG,
      sight: sightAlong(profile, { eyeM, targetM, refraction }),
    });
  }
  const rank = ({ sight }: PlaceInView<P>): number =>
    sight.targetVisible === null ? 1 : sight.targetVisible ? 0 : 2;
  return found.sort((a, b) => rank(a) - rank(b) || a.distanceM - b.distanceM);
}
