/**
 * Slope in the three ways it is written. Exact trigonometry: the handbook rules of 57.3 × rise/run degrees and
 * 1000 × rise/run mils hold on gentle ground only and make 57.3° of a slope of 45°.
 */
import { Fault } from "../fault.ts";
import { DEG } from "./angle.ts";
import { ABSENT, type Figure, formatNumber } from "./format.ts";

/**
 * Slope in degrees, falling negative.
 * @param riseM height gained
 * @param runM horizontal distance, not along the slope; may be 0 for a wall
 * @throws Fault "bad-argument" for a run below 0, or both 0, or a figure that is not finite
 */
export function slopeDeg(riseM: number, runM: number): number {
  if (!Number.isFinite(riseM) || !Number.isFinite(runM) || runM < 0 || (runM === 0 && riseM === 0))
    throw new Fault("bad-argument", `A rise of ${riseM} m over ${runM} m has no slope.`);
  return Math.atan2(riseM, runM) / DEG;
}

/** Rise over run in percent: 100 at 45°. */
export const slopePercent = (degrees: number): number => Math.tan(degrees * DEG) * 100;
export const percentToDegrees = (percent: number): number => Math.atan(percent / 100) / DEG;

/** "1 in 10", the run for a rise of 1; "level" below 1 in 1000. */
export function formatRatio(degrees: Figure): string {
  if (degrees === null || degrees === undefined || !Number.isFinite(degrees)) return ABSENT;
  const run = 1 / Math.tan(Math.abs(degrees) * DEG);
  if (!(run < 1000)) return "level";
  return `1\u00a0in\u00a0${formatNumber(run, run < 9.95 ? 1 : 0)}`;
}
