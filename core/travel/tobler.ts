/**
 * Walking time by Tobler's hiking function: 6 exp(−3.5 |slope + 0.05|) km/h on footpaths, fastest on a slope of 5 %
 * down; six tenths of it off the path.
 * Source: W. Tobler, Three Presentations on Geographical Analysis and Modeling, NCGIA Technical Report 93-1 (1993);
 * the factor off the path from memory. The speed is taken along the map distance, as most users of it do; the report
 * does not settle it.
 */
import type { Stretch } from "./stretches.ts";

export const OFF_PATH_FACTOR = 0.6;

/** Speed on a slope given as rise over run, metres a second. */
export function toblerSpeed(slope: number, offPath = false): number {
  return ((6 * Math.exp(-3.5 * Math.abs(slope + 0.05))) / 3.6) * (offPath ? OFF_PATH_FACTOR : 1);
}

/** Time in seconds over stretches of one slope each. */
export function toblerTimeS(stretches: readonly Stretch[], offPath = false): number {
  let seconds = 0;
  for (const { runM, riseM } of stretches) seconds += runM / toblerSpeed(riseM / runM, offPath);
  return seconds;
}
