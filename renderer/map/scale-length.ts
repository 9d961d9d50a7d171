/** Round lengths for the scale bar. Pure. */
import { FOOT_M, isMetric, type LengthUnit, MILE_M } from "../../core/units/format.ts";

/** The longest of 1, 2, 5 × 10ⁿ that is no longer than a length. */
function roundBelow(length: number): number {
  const power = 10 ** Math.floor(Math.log10(length));
  return power * ([5, 2, 1].find((step) => step * power <= length) ?? 1);
}

/**
 * @param widestM the longest the bar may be, metres
 * @returns its length, metres: round in the unit it is read in
 */
export function scaleLength(widestM: number, unit: LengthUnit): number {
  if (isMetric(unit)) return roundBelow(widestM);
  return widestM >= MILE_M ? roundBelow(widestM / MILE_M) * MILE_M : roundBelow(widestM / FOOT_M) * FOOT_M;
}
