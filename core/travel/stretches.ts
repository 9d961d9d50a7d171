/** A profile cut into equal stretches with one slope each, for rules that depend on the slope. */
import { Fault } from "../fault.ts";
import type { Profile } from "../terrain/profile.ts";

export interface Stretch {
  /** Map distance, metres. */
  readonly runM: number;
  /** Height gained, metres; falling negative. */
  readonly riseM: number;
}

/**
 * Length of a stretch, metres: long enough that the noise of heights does not decide what is steep, short enough
 * to keep real slopes. Common practice, no source.
 */
export const STRETCH_M = 50;

/**
 * Stretches of equal length, at most `stretchM`, in order; heights between samples on a straight line.
 * They depend on the ground only: sampling a profile twice as densely changes nothing.
 * @returns null when any height is missing; none for a leg of no length
 * @throws Fault "bad-argument" when stretchM is not positive
 */
export function stretchesOf(
  profile: Pick<Profile, "distanceM" | "elevationM">,
  stretchM = STRETCH_M,
): Stretch[] | null {
  if (!(stretchM > 0)) throw new Fault("bad-argument", "A stretch needs a length above 0 m.");
  const { distanceM, elevationM } = profile;
  const n = distanceM.length;
  if (n === 0 || elevationM.some((h) => Number.isNaN(h))) return null;
  const lengthM = distanceM[n - 1] as number;
  if (!(lengthM > 0)) return [];
  const count = Math.ceil(lengthM / stretchM - 1e-9);
  const runM = lengthM / count;
  const stretches: Stretch[] = [];
  let i = 1;
  let last = elevationM[0] as number;
  for (let k = 1; k <= count; k++) {
    const d = k === count ? lengthM : k * runM;
    while (i < n - 1 && (distanceM[i] as number) < d) i++;
    const [d0, d1] = [distanceM[i - 1] as number, distanceM[i] as number];
    const [h0, h1] = [elevationM[i - 1] as number, elevationM[i] as number];
    const h = d1 > d0 ? h0 + ((h1 - h0) * (d - d0)) / (d1 - d0) : h1;
    stretches.push({ runM, riseM: h - last });
    last = h;
  }
  return stretches;
}
