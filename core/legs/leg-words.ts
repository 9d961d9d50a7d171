/** What a leg crosses, follows and is stopped by, in the words of the slip and the table. */
import type { Sight } from "../terrain/line-of-sight.ts";
import {
  FOOT_M,
  formatHeight,
  formatLengthIn,
  formatNumber,
  formatQuantity,
  formatShare,
  isMetric,
  type LengthUnit,
  oneUnitOf,
} from "../units/format.ts";
import type { Kind } from "../map/kinds.ts";
import type { LegLandform } from "../terrain/landforms/landforms-along.ts";
import type { Backstop, Crossing, Handrail } from "./line-aids.ts";
import { kindAndName } from "./line-kinds.ts";

/** A distance within one leg: in metres or feet to the last, because that is what is paced and laid off with a ruler. */
export function formatAlong(metres: number | null, unit: LengthUnit): string {
  const one = oneUnitOf(unit);
  if (one) return formatLengthIn(metres, one);
  return isMetric(unit)
    ? formatQuantity(metres, "m")
    : formatQuantity(metres === null ? null : metres / FOOT_M, "ft");
}

/** Notes go to programs as well as to people: their figures stand before plain spaces. */
export const plainSpaces = (text: string): string => text.replace(/[\u00a0\u202f]/g, " ");

/** A length inside a note: "180 m", "591 ft". */
export const lengthInNote = (metres: number, unit: LengthUnit): string =>
  plainSpaces(formatAlong(metres, unit));

/** A contour is seen on the map, not on the ground, so lists to check off on the way go without. */
export const isSeenOnTheWay = ({ kind }: Crossing): boolean => kind !== "contour";

const SLOPE_KINDS: ReadonlySet<Kind> = new Set<Kind>(["rise", "drop", "steep"]);

/** "stream Fern Beck, 2 m wide", "wall of stone", "the climb of 12° levels out", "index contour 350 m" */
export function crossedWords({ kind, name, elevationM, detail }: Crossing, unit: LengthUnit): string {
  if (kind === "contour") return `index contour ${formatHeight(elevationM, unit)}`;
  // What changes says more than that the ground rises.
  if (SLOPE_KINDS.has(kind) && detail !== null) return detail;
  const more = detail === null ? "" : detail.startsWith("of ") ? ` ${detail}` : `, ${detail}`;
  return `${kindAndName(kind, name)}${more}`;
}

/** "210 m (137 paces) stream Fern Beck, 2 m wide" */
export function crossingWords(crossing: Crossing, unit: LengthUnit): string {
  return `${formatAlong(crossing.atM, unit)} (${formatNumber(crossing.paces)} paces) ${crossedWords(crossing, unit)}`;
}

/** "640 m saddle", "ridge from 0 m to 320 m" */
export function landformWords({ kind, name, way, atM, fromM, toM }: LegLandform, unit: LengthUnit): string {
  const what = kindAndName(kind, name);
  if (way === "across" && kind !== "cliff") return `${formatAlong(atM, unit)} ${what}`;
  return `${what} from ${formatAlong(fromM, unit)} to ${formatAlong(toM, unit)}`;
}

/**
 * "B is hidden by the ground at 420 m; a person walking there is seen as far as 240 m"; empty when it is not known. A person,
 * because sight is worked out to so high above the ground.
 */
export function sightWords(
  { sight, distanceM, to }: { readonly sight: Sight; readonly distanceM: number; readonly to: string },
  unit: LengthUnit,
): string {
  const { targetVisible, visibleToM, hiddenByM } = sight;
  if (targetVisible === null || distanceM < AT_END_M) return "";
  const by = hiddenByM === null ? "" : ` by the ground at ${formatAlong(hiddenByM, unit)}`;
  const target = targetVisible ? `${to} is in view from the start` : `${to} is hidden${by}`;
  if (visibleToM === null) return target;
  if (visibleToM >= distanceM - 0.5) return `${target}; a person walking there is seen all the way`;
  const reach = `${target}; a person walking there is seen as far as ${formatAlong(visibleToM, unit)}`;
  return targetVisible ? `${reach}, then lost for a while` : reach;
}

/** What lies this near an end of the leg is at it: nobody checks off the path they set out from. */
export const AT_END_M = 5;

/**
 * "stream Fern Beck on the right from 120 m to 640 m, about 25 m off"
 * @param lengthM length of the leg, so that a stretch reaching its end need not be told in figures
 */
export function handrailWords(
  { kind, name, side, fromM, toM, meanOffsetM }: Handrail,
  unit: LengthUnit,
  lengthM: number,
): string {
  const fromStart = fromM < AT_END_M;
  const toEnd = toM > lengthM - AT_END_M;
  const from = fromStart ? "" : ` from ${formatAlong(fromM, unit)}`;
  const to = toEnd ? "" : ` to ${formatAlong(toM, unit)}`;
  const stretch = fromStart && toEnd ? " all the way" : `${from}${toEnd ? " on" : to}`;
  return `${kindAndName(kind, name)} on the ${side}${stretch}, about ${formatAlong(meanOffsetM, unit)} off`;
}

/** "road 120 m beyond, stops 97 %" */
export function backstopWords({ kind, name, beyondM, stoppedShare }: Backstop, unit: LengthUnit): string {
  const where = beyondM === 0 ? "at the target" : `${formatAlong(beyondM, unit)} beyond`;
  return `${kindAndName(kind, name)} ${where}, stops ${formatShare(stoppedShare)}`;
}
