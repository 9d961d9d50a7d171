/** What a leg crosses, follows and is stopped by, in the words of the slip and the table. */
import { formatLength, formatNumber, formatShare, type LengthUnit } from "../units/format.ts";
import type { Backstop, Crossing, Handrail } from "./figures.ts";
import { kindAndName } from "./line-kinds.ts";

/** "210 m (137 paces) stream Fern Beck" */
export function crossingWords({ kind, name, atM, paces }: Crossing, unit: LengthUnit): string {
  return `${formatLength(atM, unit)} (${formatNumber(paces)} paces) ${kindAndName(kind, name)}`;
}

/** "stream Fern Beck on the right, 120 m to 640 m, about 25 m off" */
export function handrailWords(
  { kind, name, side, fromM, toM, meanOffsetM, coverage }: Handrail,
  unit: LengthUnit,
): string {
  const stretch =
    coverage > 0.98 ? "all the way" : `${formatLength(fromM, unit)} to ${formatLength(toM, unit)}`;
  return `${kindAndName(kind, name)} on the ${side}, ${stretch}, about ${formatLength(meanOffsetM, unit)} off`;
}

/** "road 120 m beyond, stops 97 %" */
export function backstopWords({ kind, name, beyondM, stoppedShare }: Backstop, unit: LengthUnit): string {
  const where = beyondM === 0 ? "at the target" : `${formatLength(beyondM, unit)} beyond`;
  return `${kindAndName(kind, name)} ${where}, stops ${formatShare(stoppedShare)}`;
}
