/**
 * Walking time by Naismith's rule with Langmuir's corrections for going down.
 * Source: E. Langmuir, Mountaincraft and Leadership (1984), as quoted with its coefficients in the manual of GRASS
 * GIS r.walk: 5 km/h, 10 minutes for 100 m up; going down between 5° and 12° takes off 10 minutes for 300 m, steeper
 * than 12° adds 10 minutes for 300 m. The rule jumps at 12°: a kilometre losing 212 m takes 5 minutes just below and
 * 19 just above.
 */
import type { Stretch } from "./stretches.ts";

const FLAT_S_PER_M = 3600 / 5000;
const UP_S_PER_M = 600 / 100;
const DOWN_S_PER_M = 600 / 300;
const GENTLE = Math.tan((5 * Math.PI) / 180);
const STEEP = Math.tan((12 * Math.PI) / 180);

/** Time in seconds over stretches of one slope each. */
export function langmuirTimeS(stretches: readonly Stretch[]): number {
  let seconds = 0;
  for (const { runM, riseM } of stretches) {
    seconds += runM * FLAT_S_PER_M;
    if (riseM >= 0) seconds += riseM * UP_S_PER_M;
    else if (-riseM > runM * STEEP) seconds -= riseM * DOWN_S_PER_M;
    else if (-riseM >= runM * GENTLE) seconds += riseM * DOWN_S_PER_M;
  }
  return seconds;
}
