/**
 * What can be seen over the bare ground, with the earth's curvature and the bending of light by the air.
 *
 * At a distance d the earth falls away below a level line by d² / 2R, and light bends after it by a share k of that, so
 * that ground there looks (1 − k) d² / 2R lower than it is. k is 1/7 in ordinary weather, as for surveying (0.13 to
 * 0.14); with R the semi-axis of WGS 84 this is the rule of gdal_viewshed with its default -cc 0.85714. A place is seen
 * when nothing on the way stands above the line from the eye to it.
 *
 * Bare earth: an elevation model knows nothing of woods, walls and houses; see `BARE_EARTH`.
 */
import { Fault } from "../fault.ts";
import { SEMI_MAJOR_M } from "../geodesy/ellipsoid.ts";
import type { Profile } from "./profile.ts";

/** For notes beside anything said of sight. */
export const BARE_EARTH =
  "What can be seen is worked out for bare ground: trees, buildings and haze may hide what is said to be in view.";

export interface SightSettings {
  /** Of the eye above the ground, metres. */
  readonly eyeM: number;
  /** Of what is looked at above the ground, metres. */
  readonly targetM: number;
  /** Share of the earth's curvature that light follows. */
  readonly refraction: number;
}

/** Eye of a standing person, and another one standing at the target: common practice, no source. */
export const SIGHT_SETTINGS: SightSettings = { eyeM: 1.6, targetM: 1.6, refraction: 1 / 7 };

/** Sight from the start of a line towards its end. */
export interface Sight {
  /** Null when heights are missing, or too uncertain to tell: `reason` says which. */
  readonly targetVisible: boolean | null;
  /**
   * So far along the line everything `targetM` above the ground is seen, metres from the start: a steering mark can be
   * chosen anywhere up to here. Null when not known.
   */
  readonly visibleToM: number | null;
  /** The farthest place on the line that is seen at all, beyond what hides nearer ground. Null when not known. */
  readonly farthestM: number | null;
  /** Where the ground that hides the target stands, metres from the start; null when nothing does. */
  readonly hiddenByM: number | null;
  /** How high above the ground at the end something must stand to be just seen, metres; 0 or less when the ground is. */
  readonly needM: number | null;
  readonly reason: string | null;
}

/** How much lower ground looks at a distance, metres: curvature less refraction. */
export function dropM(distanceM: number, refraction: number = SIGHT_SETTINGS.refraction): number {
  return ((1 - refraction) * distanceM * distanceM) / (2 * SEMI_MAJOR_M);
}

const ABSENT = { targetVisible: null, visibleToM: null, farthestM: null, hiddenByM: null, needM: null };

/**
 * Sight along a profile, from its first place to its last.
 * Where the profile's heights carry an error (from contours), the target counts as seen or hidden only when it is so by
 * more than that, hidden by some one place or seen over all; how far one can see is then not said.
 * @throws Fault "bad-argument" for heights or a refraction that make no sense
 */
export function sightAlong(
  profile: Pick<Profile, "distanceM" | "elevationM" | "errorM"> & Partial<Pick<Profile, "errorsM">>,
  settings: Partial<SightSettings> = {},
): Sight {
  const { distanceM, elevationM, errorM, errorsM } = profile;
  const { eyeM, targetM, refraction } = { ...SIGHT_SETTINGS, ...settings };
  if (![eyeM, targetM].every((h) => h >= 0 && h < Infinity) || !(refraction >= 0 && refraction < 1))
    throw new Fault(
      "bad-argument",
      "Sight needs heights of 0 m or more above the ground, and a refraction from 0 to 1.",
    );
  const n = distanceM.length;
  if (n === 0 || elevationM.some((h) => Number.isNaN(h)))
    return { ...ABSENT, reason: "Heights are missing on the way, so what can be seen is not known." };
  const eye = (elevationM[0] as number) + eyeM;
  const tilt = (i: number, above: number): number => {
    const d = distanceM[i] as number;
    return ((elevationM[i] as number) + above - dropM(d, refraction) - eye) / d;
  };
  let highest = -Infinity;
  let hider = -1;
  let visibleToM = 0;
  let farthestM = 0;
  let broken = false;
  let needM = 0;
  let hiddenByM: number | null = null;
  let targetVisible = true;
  for (let i = 1; i < n; i++) {
    const d = distanceM[i] as number;
    if (!(d > 0)) continue;
    const seen = tilt(i, targetM) >= highest;
    if (seen) farthestM = d;
    if (!seen) broken = true;
    if (!broken) visibleToM = d;
    if (i === n - 1) {
      targetVisible = seen;
      hiddenByM = seen ? null : (distanceM[hider] as number);
      needM = hider < 0 ? 0 : (highest - tilt(i, 0)) * d;
    }
    const ground = tilt(i, 0);
    if (ground > highest) [highest, hider] = [ground, i];
  }
  if (errorM === null) return { targetVisible, visibleToM, farthestM, hiddenByM, needM, reason: null };
  // An error of the ground at a share of the way moves the line over it by as many times more at the target: near the
  // eye a small one tells nothing.
  const errorAt = (i: number): number => errorsM?.[i] ?? errorM;
  const lengthM = distanceM[n - 1] as number;
  const marginOver = (i: number): number => {
    const lever = lengthM / (distanceM[i] as number);
    return errorAt(0) * (lever - 1) + errorAt(i) * lever + errorAt(n - 1);
  };
  let surelySeen = true;
  let surelyHidden = false;
  for (let i = 1; i < n - 1; i++) {
    if (!((distanceM[i] as number) > 0)) continue;
    const needOver = (tilt(i, 0) - tilt(n - 1, 0)) * lengthM;
    if (needOver - marginOver(i) > targetM) surelyHidden = true;
    if (needOver + marginOver(i) > targetM) surelySeen = false;
  }
  const sure = targetVisible ? surelySeen : surelyHidden;
  return {
    ...ABSENT,
    targetVisible: sure ? targetVisible : null,
    hiddenByM: sure ? hiddenByM : null,
    reason: sure
      ? "How far one can see is not known from contours alone."
      : "Whether the target can be seen is not known: heights from contours alone are too uncertain.",
  };
}
