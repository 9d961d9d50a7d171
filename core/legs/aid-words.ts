/** The aids of a leg, and the advice on it, in the words of the leg table. */
import { formatAngle, formatHeight, formatNumber, formatShare, type LengthUnit } from "../units/format.ts";
import type { EscapeFigure, LegAdvice } from "./advice/advice.ts";
import type { Hazard } from "./aids/hazards.ts";
import type { AimOffFigure, AttackPointFigure } from "./figures.ts";
import { formatAlong } from "./leg-words.ts";
import { kindAndName } from "./line-kinds.ts";
import { type Compass, formatOn } from "./norths/bearing-to-set.ts";

/** "the stream junction, then 45° magnetic 120 m (78 paces)" */
export function attackWords(
  { words, bearingMagneticDeg, distanceM, paces }: AttackPointFigure,
  compass: Compass,
  unit: LengthUnit,
): string {
  return `${words}, then ${formatOn(compass, bearingMagneticDeg)} magnetic, ${formatAlong(distanceM, unit)} (${formatNumber(paces)} paces)`;
}

/** "8° left, on 239° magnetic; on the stream turn right, at most 140 m along it" */
export function aimOffWords(
  { offsetDeg, side, bearingMagneticDeg, line, turn, alongM }: AimOffFigure,
  compass: Compass,
  unit: LengthUnit,
): string {
  return `${formatNumber(offsetDeg)}° ${side}, on ${formatOn(compass, bearingMagneticDeg)} magnetic; on the ${kindAndName(line.kind, line.name)} turn ${turn}, at most ${formatAlong(alongM, unit)} along it`;
}

/** "cliff on the left from 300 m to 340 m, 12 m high", "ground of 35° and more on the way …" */
export function hazardWords(
  { kind, name, fromM, toM, side, value, steep, trap }: Hazard,
  unit: LengthUnit,
): string {
  const what = steep
    ? `ground of ${formatAngle(steep.fromDeg)} and more${value === null ? "" : `, at most ${formatAngle(value)},`}`
    : kindAndName(kind, name);
  const where = side === "on" ? "on the way" : `on the ${side}`;
  const high = kind === "cliff" && value !== null ? `, ${formatHeight(value, unit)} of drop` : "";
  const below = trap ? `, ${kindAndName(trap.kind, trap.name)} below it` : "";
  return `${what} ${where} from ${formatAlong(fromM, unit)} to ${formatAlong(toM, unit)}${high}${below}`;
}

/** "73 of 100 find it, 11 are stopped, 16 pass by": whole walkers that add up to a hundred. */
export function oddsWords({ odds }: Pick<LegAdvice, "odds">): string {
  if (!odds) return "";
  const find = Math.round(odds.find * 100);
  const missed = Math.min(100 - find, Math.round(odds.missed * 100));
  return `${find} of 100 find it, ${100 - find - missed} are stopped, ${missed} pass by`;
}

/** "Aim off 8° to the left …: 91 of 100" */
export const betterWords = ({ better }: Pick<LegAdvice, "better">): string =>
  better.map(({ words, odds }) => `${words} ${formatShare(odds.find)} find it then.`).join(" ");

/** "268° magnetic to Dale Road, 1,470 m at most" */
export function escapeWordsIn(
  { bearingMagneticDeg, kind, name, worstM }: EscapeFigure,
  compass: Compass,
  unit: LengthUnit,
): string {
  return `${formatOn(compass, bearingMagneticDeg)} magnetic to the ${kindAndName(kind, name)}, ${formatAlong(worstM, unit)} at most`;
}
