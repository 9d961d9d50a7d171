/** A profile's known heights read off at even distances, for fits and counts that need them so. */
import type { Profile } from "./profile.ts";

/** A stretch of the profile without a gap. */
export interface EvenRun {
  /** Of the first height, metres from the leg's start. */
  readonly fromM: number;
  /** As asked for, but for making the last height lie at the stretch's end. */
  readonly stepM: number;
  readonly heightsM: Float64Array;
}

/** Legs of hundreds of kilometres are read more coarsely. */
const MOST_STEPS = 20_000;

/**
 * The stretches with heights, each straight between the profile's samples.
 * @param stepM above 0
 */
export function evenRuns(
  { distanceM, elevationM }: Pick<Profile, "distanceM" | "elevationM">,
  stepM: number,
): EvenRun[] {
  const runs: EvenRun[] = [];
  const n = distanceM.length;
  for (let first = 0; first < n; first++) {
    if (Number.isNaN(elevationM[first])) continue;
    let last = first;
    while (last + 1 < n && !Number.isNaN(elevationM[last + 1])) last++;
    const fromM = distanceM[first] as number;
    const lengthM = (distanceM[last] as number) - fromM;
    if (lengthM > 0) {
      const steps = Math.max(1, Math.min(MOST_STEPS, Math.round(lengthM / stepM)));
      runs.push({
        fromM,
        stepM: lengthM / steps,
        heightsM: evenly(distanceM, elevationM, first, last, steps),
      });
    }
    first = last;
  }
  return runs;
}

function evenly(
  distanceM: Float64Array,
  elevationM: Float64Array,
  first: number,
  last: number,
  steps: number,
): Float64Array {
  const fromM = distanceM[first] as number;
  const stepM = ((distanceM[last] as number) - fromM) / steps;
  const heights = new Float64Array(steps + 1);
  let i = first;
  for (let k = 0; k < steps; k++) {
    const d = fromM + k * stepM;
    while (i + 1 < last && (distanceM[i + 1] as number) <= d) i++;
    const [d0, d1] = [distanceM[i] as number, distanceM[i + 1] as number];
    const [h0, h1] = [elevationM[i] as number, elevationM[i + 1] as number];
    heights[k] = d1 > d0 ? h0 + ((h1 - h0) * (d - d0)) / (d1 - d0) : h1;
  }
  heights[steps] = elevationM[last] as number;
  return heights;
}
