/** The rules every walk keeps, whoever made it: checked on edits and on files alike. */
import { Fault } from "../fault.ts";
import { printedDeclinationOn } from "../geodesy/printed-declination.ts";
import { checkPacesPer100m } from "../travel/paces.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import type { WalkDeclination, WalkPace } from "./walk.ts";

export const MAX_POINTS = 5_000;
export const MAX_TEXT = 20_000;

/** A day as YYYY-MM-DD that exists in the calendar. */
export function isDay(text: string): boolean {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (!match) return false;
  const date = new Date(`${text}T00:00:00Z`);
  // The second test refuses 2026-02-30, which some engines roll over into March.
  return !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
}

/** @throws Fault "bad-argument" for a day that does not exist */
export function checkDay(text: string, where: string | null = null): string {
  if (!isDay(text))
    throw new Fault(
      "bad-argument",
      `“${text}” is not a day.`,
      where,
      "Write it as year-month-day, like 2026-05-16.",
    );
  return text;
}

/** @throws Fault "bad-argument" when a text is not a time of day as HH:MM */
export function checkClock(text: string, where: string | null = null): string {
  if (!/^([01]\d|2[0-3]):[0-5]\d$/.test(text))
    throw new Fault(
      "bad-argument",
      `“${text}” is not a time of day.`,
      where,
      "Write it as hours and minutes, like 08:30.",
    );
  return text;
}

/** @throws Fault "bad-argument" when this computer knows no time zone of that name */
export function checkTimeZone(name: string, where: string | null = null): string {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name }).format(0);
    return name;
  } catch {
    throw new Fault(
      "bad-argument",
      `“${name}” is not a time zone.`,
      where,
      "Write it as area and city, like Europe/Oslo.",
    );
  }
}

/** @throws Fault "bad-argument" when a position is none, or too near a pole for a walk's geometry */
export function checkPointPosition(position: LonLat, where: string | null = null): LonLat {
  checkLonLat(position, where);
  if (Math.abs(position[1]) > 89)
    throw new Fault(
      "bad-argument",
      "Within a degree of a pole bearings turn with every step.",
      where,
      "Place the point elsewhere.",
    );
  return position;
}

/** @throws Fault "bad-argument" when a count cannot be */
export function checkPace(pace: WalkPace): WalkPace {
  for (const count of [pace.per100m, pace.upPer100m, pace.downPer100m])
    if (count !== null) checkPacesPer100m(count);
  return pace;
}

/** @throws Fault "bad-argument" when a printed declination cannot be, or is to rule and is not there */
export function checkDeclination(declination: WalkDeclination): WalkDeclination {
  const { use, printed } = declination;
  // Only the printed figures themselves are looked at here: any day and convergence will do.
  if (printed) printedDeclinationOn(printed, "2026-01-01", 0);
  else if (use === "printed")
    throw new Fault(
      "bad-argument",
      "The printed declination is to rule, but none was given.",
      null,
      "Give the figures in the map's margin.",
    );
  return declination;
}
