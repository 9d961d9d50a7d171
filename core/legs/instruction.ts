/**
 * A leg in one line: what to set, how far, how many paces, how much up; what to follow, where it stops, what to mind.
 * "247° magnetic, 640 m, 430 paces, 55 m up; stream on the left to 400 m; wall 120 m beyond"
 */
import { formatHeight, formatNumber, type LengthUnit } from "../units/format.ts";
import type { Hazard } from "./aids/hazards.ts";
import { isGroundShape, kindAndName, kindWord } from "./line-kinds.ts";
import type { Backstop, Handrail, LegFigures } from "./figures.ts";
import { compassOf, type HowAbout, northAsked, unitOf } from "./how/how-about.ts";
import { AT_END_M, lengthInNote, plainSpaces } from "./leg-words.ts";
import { bearingToSet } from "./norths/bearing-to-set.ts";

/** A leg's line as shown: the program's, or the person's own. */
export interface Instruction {
  readonly text: string;
  readonly from: "program" | "person";
  /** The person's own, written for the leg as it lay then. */
  readonly mayBeStale: boolean;
}

/** What a table needs for its instructions. */
export type InstructionAbout = Pick<HowAbout, "compass" | "north" | "lengthUnit" | "settings">;

/** Ups and downs smaller than this are not worth their words, metres. No source. */
const LEAST_RISE_M = 3;
/** A handrail beside less of the leg than this is not what one follows. No source. */
const LEAST_COVERAGE = 0.2;
const PACES_FROM_M = 20;

/** The program's own line for a leg. */
export function instructionOf(leg: LegFigures, about: InstructionAbout): string {
  const unit = unitOf(about);
  const set = bearingToSet(leg, compassOf(about), northAsked(about));
  if (leg.bearingTrueDeg === null) return "Stay where you are: both ends are the same place.";
  const { aimOff } = leg;
  const target = leg.aimsOff && aimOff;
  const first = [
    set.deg === null ? "no bearing to set" : `${set.text} ${set.north}`,
    ...(target ? [`aiming off ${formatNumber(target.offsetDeg)}° ${target.side}`] : []),
    lengthInNote(target ? target.distanceM : leg.distanceM, unit),
    ...pacesWords(target ? target.distanceM : leg.distanceM, leg, about.settings.pacesPer100m),
    ...rises(leg, unit),
  ].join(", ");
  const rest = [
    ...(target
      ? [`turn ${target.turn} on the ${kindAndName(target.line.kind, target.line.name)}`]
      : followed(leg.handrails[0], leg, unit)),
    ...stop(leg.backstop, unit),
    ...mind(leg.hazards, unit),
    ...(leg.attackPoints[0] && !target ? [`go by ${leg.attackPoints[0].words}`] : []),
  ];
  return plainSpaces([first, ...rest].join("; "));
}

function pacesWords(
  distanceM: number,
  { paces, distanceM: straightM }: LegFigures,
  per100m: number,
): string[] {
  if (paces === null || distanceM < PACES_FROM_M) return [];
  // Aiming off one walks a little farther; the count grows with it.
  const count =
    distanceM === straightM ? paces : Math.round(paces + ((distanceM - straightM) * per100m) / 100);
  return [`${formatNumber(count)} paces`];
}

function rises({ climbM, descentM }: LegFigures, unit: LengthUnit): string[] {
  const part = (metres: number | null, word: string): string[] =>
    metres !== null && metres >= LEAST_RISE_M ? [`${formatHeight(metres, unit)} ${word}`] : [];
  const both = [...part(climbM, "up"), ...part(descentM, "down")];
  if (climbM === null || descentM === null) return [];
  return both.length > 0 ? both : ["level"];
}

function followed(rail: Handrail | undefined, { distanceM }: LegFigures, unit: LengthUnit): string[] {
  if (!rail || rail.coverage < LEAST_COVERAGE) return [];
  const from = rail.fromM < AT_END_M ? "" : ` from ${lengthInNote(rail.fromM, unit)}`;
  const toEnd = rail.toM > distanceM - AT_END_M;
  const to = toEnd ? (from === "" ? " all the way" : " on") : ` to ${lengthInNote(rail.toM, unit)}`;
  return [`${kindAndName(rail.kind, rail.name)} on the ${rail.side}${from}${to}`];
}

function stop(backstop: Backstop | null, unit: LengthUnit): string[] {
  if (!backstop) return ["nothing beyond to stop at"];
  const { kind, name, beyondM } = backstop;
  const where = beyondM < 1 ? "at the target" : `${lengthInNote(beyondM, unit)} beyond`;
  return [`${isGroundShape(kind) ? kindWord(kind) : kindAndName(kind, name)} ${where}`];
}

/** The worst of what is to be minded, on the way before beside it. */
function mind(hazards: readonly Hazard[], unit: LengthUnit): string[] {
  const worst = ["cliff", "steep", "water", "river", "restricted", "rail"] as const;
  const rank = ({ kind, side }: Hazard): number => {
    const at = worst.findIndex((k) => k === kind);
    return at < 0 ? Infinity : at * 2 + (side === "on" ? 0 : 1);
  };
  const first = hazards.toSorted((a, b) => rank(a) - rank(b))[0];
  if (!first || rank(first) === Infinity) return [];
  const where = first.side === "on" ? "on the way" : `on the ${first.side}`;
  return [`mind the ${kindAndName(first.kind, first.name)} ${where} from ${lengthInNote(first.fromM, unit)}`];
}
