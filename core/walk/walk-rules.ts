/** The rules every walk keeps, whoever made it: checked on edits and on files alike. */
import { Fault } from "../fault.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";

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

/** @throws Fault "bad-argument" when paces per 100 m make no sense */
export function checkPacesPer100m(value: number, where: string | null = null): number {
  // A step of 0.4 m gives 250 steps to 100 m, a double pace of 2.5 m gives 40: beyond that it is a slip of the pen.
  if (!Number.isFinite(value) || value < 20 || value > 400)
    throw new Fault(
      "bad-argument",
      `${value} paces to 100 m cannot be right.`,
      where,
      "Give a number from 20 to 400.",
    );
  return value;
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
