/**
 * Clock time in a time zone, there and back. The rules of the zones are the platform's own (IANA data behind
 * Intl.DateTimeFormat); nothing of them is kept here.
 */
import { Fault } from "../../fault.ts";
import { decimalYear } from "../../geodesy/decimal-year.ts";

/** A time zone with its clock. */
export interface Zone {
  /** Its own name, such as "Europe/Oslo". */
  readonly name: string;
  readonly format: Intl.DateTimeFormat;
}

const zones = new Map<string, Zone>();

/**
 * @param timeZone name of the zone; null is the computer's, asked for anew each time since a computer travels
 * @throws Fault "bad-argument" for a zone the platform does not know
 */
export function zoneOf(timeZone: string | null): Zone {
  const known = timeZone === null ? undefined : zones.get(timeZone);
  if (known) return known;
  let format: Intl.DateTimeFormat;
  try {
    format = new Intl.DateTimeFormat("en-GB", {
      timeZone: timeZone ?? undefined,
      calendar: "iso8601",
      numberingSystem: "latn",
      hourCycle: "h23",
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
      hour: "2-digit",
      minute: "2-digit",
      second: "2-digit",
    });
  } catch {
    throw new Fault(
      "bad-argument",
      `“${timeZone}” is not a time zone.`,
      null,
      "Write it as area and city, like Europe/Oslo.",
    );
  }
  const zone = { name: timeZone ?? format.resolvedOptions().timeZone, format };
  if (timeZone !== null) zones.set(timeZone, zone);
  return zone;
}

const MINUTE_MS = 60_000;
const DAY_MS = 1440 * MINUTE_MS;

/** How far the zone's clock is ahead of UTC at an instant, in whole minutes of milliseconds. */
export function zoneOffsetMs(ms: number, { format }: Zone): number {
  const parts = Object.fromEntries(
    format.formatToParts(ms).map(({ type, value }) => [type, Number(value)]),
  ) as Record<"year" | "month" | "day" | "hour" | "minute" | "second", number>;
  const clock = Date.UTC(parts.year, parts.month - 1, parts.day, parts.hour, parts.minute, parts.second);
  // Zones before standard time were off by odd seconds, which an offset cannot be written with.
  return Math.round((clock - Math.floor(ms / 1000) * 1000) / MINUTE_MS) * MINUTE_MS;
}

export interface ZonedInstant {
  /** Milliseconds of UTC since 1970. */
  readonly ms: number;
  /** How many instants show this clock time: none when clocks are put forward over it, two when they are put back. */
  readonly times: 0 | 1 | 2;
}

/**
 * The instant at which a zone's clock shows a time on a day. A time that comes twice is the first of the two; one that
 * is left out is as far after the gap as it lies in it, as in RFC 5545 §3.3.5.
 * @param date YYYY-MM-DD
 * @param clock HH:MM
 * @throws Fault "bad-argument" for a day or a time that is none
 */
export function instantOf(date: string, clock: string, zone: Zone): ZonedInstant {
  // Refuses 31 June, which Date would carry into July.
  decimalYear(date);
  const asUtc = Date.parse(`${date}T${clock}:00Z`);
  if (!/^\d\d:\d\d$/.test(clock) || Number.isNaN(asUtc) || clock.startsWith("24"))
    throw new Fault(
      "bad-argument",
      `“${date} ${clock}” is not a day and a time of day.`,
      null,
      "Write such as 2026-05-16 and 08:30.",
    );
  const before = zoneOffsetMs(asUtc - DAY_MS, zone);
  const after = zoneOffsetMs(asUtc + DAY_MS, zone);
  const fitting = [...new Set([before, after])]
    .map((offset) => ({ ms: asUtc - offset, offset }))
    .filter(({ ms, offset }) => zoneOffsetMs(ms, zone) === offset)
    .map(({ ms }) => ms);
  return fitting.length === 0
    ? { ms: asUtc - before, times: 0 }
    : { ms: Math.min(...fitting), times: fitting.length as 1 | 2 };
}

/** Local date and time, to the second, with the offset from UTC: "2026-06-15T09:42:00+01:00" (RFC 3339). */
export function localIso(ms: number, zone: Zone): string {
  const whole = Math.round(ms / 1000) * 1000;
  const offset = zoneOffsetMs(whole, zone);
  const minutes = Math.abs(offset) / MINUTE_MS;
  const two = (n: number): string => String(Math.floor(n)).padStart(2, "0");
  const local = new Date(whole + offset).toISOString().slice(0, 19);
  return `${local}${offset < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
}

/**
 * The clock of a local date and time as a person reads it, to the nearest minute: "09:42", on the day after `date`
 * "01:10 +1".
 * @param iso as `localIso` makes it; null is null
 */
export function clockOf(iso: string | null, date: string): string | null {
  if (iso === null) return null;
  // As if the clock were that of UTC: only its digits are wanted.
  const local = Date.parse(`${iso.slice(0, 19)}Z`);
  const minute = Math.round(local / MINUTE_MS) * MINUTE_MS;
  const days = Math.floor((minute - Date.parse(`${date}T00:00:00Z`)) / DAY_MS);
  const clock = new Date(minute).toISOString().slice(11, 16);
  return days === 0 ? clock : `${clock}\u00a0${days > 0 ? "+" : "−"}${Math.abs(days)}`;
}
