/** Where one has to stop on a leg to sight on, steering each time for the farthest place in view on the line. */
import { dropM, SIGHT_SETTINGS, type SightSettings } from "./line-of-sight.ts";
import { Fault } from "../fault.ts";
import type { Profile } from "./profile.ts";

export interface SightStops {
  /**
   * Places between the start and the end at which to stop and sight on, metres from the start, rising; none when the end
   * is seen from the start. Null when not known: `reason` says why.
   */
  readonly stopsM: readonly number[] | null;
  readonly reason: string | null;
}

/**
 * The chain of places from the start of a profile to its end, each the farthest that is seen from the one before over
 * the bare ground, be it beyond a dip that is not. Now and then a
 * chain with fewer stops exists, through a nearer place from which one sees farther.
 * @returns null stops where heights are missing, and from contours alone, whose heights are too uncertain
 * @throws Fault "bad-argument" for heights or a refraction that make no sense
 */
export function sightStops(
  { distanceM, elevationM, errorM }: Pick<Profile, "distanceM" | "elevationM" | "errorM">,
  settings: Partial<SightSettings> = {},
): SightStops {
  const { eyeM, targetM, refraction } = { ...SIGHT_SETTINGS, ...settings };
  if (![eyeM, targetM].every((h) => h >= 0 && h < Infinity) || !(refraction >= 0 && refraction < 1))
    throw new Fault(
      "bad-argument",
      "Sight needs heights of 0 m or more above the ground, and a refraction from 0 to 1.",
    );
  const n = distanceM.length;
  if (n === 0 || elevationM.some((h) => Number.isNaN(h)))
    return { stopsM: null, reason: "Heights are missing on the way, so where to sight on is not known." };
  if (errorM !== null) return { stopsM: null, reason: "Where to sight on is not known from contours alone." };
  const farthestFrom = (start: number): number => {
    const eye = (elevationM[start] as number) + eyeM;
    let farthest = start + 1;
    let highest = -Infinity;
    for (let i = start + 1; i < n; i++) {
      const d = (distanceM[i] as number) - (distanceM[start] as number);
      if (!(d > 0)) continue;
      const ground = ((elevationM[i] as number) - dropM(d, refraction) - eye) / d;
      if (ground + targetM / d >= highest) farthest = i;
      if (ground > highest) highest = ground;
    }
    return farthest;
  };
  const stopsM: number[] = [];
  for (let at = farthestFrom(0); at < n - 1; at = farthestFrom(at)) stopsM.push(distanceM[at] as number);
  return { stopsM, reason: null };
}
