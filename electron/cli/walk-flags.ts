/** What is said on the command line about a walk goes before what its file says. */
import { Fault } from "../../core/fault.ts";
import { checkClock, checkDay, checkTimeZone } from "../../core/walk/walk-rules.ts";
import * as edit from "../../core/walk/edits.ts";
import type { North, Walk } from "../../core/walk/walk.ts";
import { checkPacesPer100m } from "../../core/travel/paces.ts";
import type { TimeMethod } from "../../core/travel/walking-time.ts";
import { milsToDegrees } from "../../core/units/mils.ts";
import { COMPASS_MARKS_DEG, type CompassSettings } from "../contract.ts";
import { type PrintedOptions, printedNorth } from "./printed-north.ts";

export interface WalkFlags extends PrintedOptions {
  readonly date?: string;
  readonly start?: string;
  readonly backBy?: string;
  readonly timeZone?: string;
  readonly pace?: string;
  readonly time?: TimeMethod;
  readonly north?: North;
  readonly beyondModel?: true;
}

/**
 * An edit of a walk as the options have it. Made before any file is read, so that what makes no sense is said first.
 * @throws Fault "bad-argument" naming the option
 */
export function walkEdit(flags: WalkFlags): (walk: Walk) => Walk {
  const day = given(flags.date, (text) => checkDay(text, "--date"));
  const start = given(flags.start, (text) => checkClock(text, "--start"));
  const backBy = given(flags.backBy, (text) => checkClock(text, "--back-by"));
  const zone = given(flags.timeZone, (text) => checkTimeZone(text, "--time-zone"));
  const per100m = given(flags.pace, paceCount);
  const printed = printedNorth(flags);
  const edits: ((walk: Walk) => Walk)[] = [];
  if (day !== null) edits.push((walk) => edit.setDate(walk, day));
  if (start !== null) edits.push((walk) => edit.setStartTime(walk, start));
  if (backBy !== null) edits.push((walk) => edit.setBackBy(walk, backBy));
  if (zone !== null) edits.push((walk) => edit.setTimeZone(walk, zone));
  // One count was given for all ground: those of the file for slopes belong to another.
  if (per100m !== null)
    edits.push((walk) => edit.setPace(walk, { ...walk.pace, per100m, upPer100m: null, downPer100m: null }));
  const { time, north } = flags;
  if (time) edits.push((walk) => edit.setTimeMethod(walk, time));
  if (north) edits.push((walk) => edit.setNorth(walk, north));
  if (printed)
    edits.push((walk) => edit.setDeclination(walk, { ...walk.declination, use: "printed", printed }));
  if (flags.beyondModel)
    edits.push((walk) => edit.setDeclination(walk, { ...walk.declination, beyondModel: true }));
  return (walk) => edits.reduce((now, change) => change(now), walk);
}

const given = <T>(text: string | undefined, read: (text: string) => T): T | null =>
  text === undefined ? null : read(text);

function paceCount(text: string): number {
  if (/^\s*-?\d+(\.\d+)?\s*$/.test(text)) return checkPacesPer100m(Number(text));
  throw new Fault(
    "bad-argument",
    `“${text}” is no pace count.`,
    "--pace",
    "Walk 100 m and count; 60 to 70 double paces are usual.",
  );
}

export interface CompassFlags {
  readonly unit?: CompassSettings["unit"];
  readonly round?: string;
  /** The declination is set on the compass itself. */
  readonly adjustable?: boolean;
}

/**
 * The compass bearings are written for.
 * @throws Fault "bad-argument" for marks no compass has
 */
export function compassOf({ unit = "degrees", round, adjustable = false }: CompassFlags): CompassSettings {
  const marks = COMPASS_MARKS_DEG[unit];
  if (round === undefined) return { unit, graduationDeg: marks[0] as number, adjustable };
  const typed = /^\s*\d+(\.\d+)?\s*(?:°|deg|mils?)?\s*$/i.test(round) ? Number.parseFloat(round) : Number.NaN;
  const graduationDeg = unit === "mils" ? milsToDegrees(typed) : typed;
  if (marks.includes(graduationDeg)) return { unit, graduationDeg, adjustable };
  throw new Fault(
    "bad-argument",
    `“${round}” is no spacing of the marks on a compass in ${unit === "mils" ? "mils" : "degrees"}.`,
    "--round",
    unit === "mils" ? "Use 10, 20, 25, 50 or 100." : "Use 1, 2 or 5.",
  );
}
