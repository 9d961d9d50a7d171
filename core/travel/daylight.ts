/**
 * Sunrise, sunset and civil twilight. Only this file imports suncalc, a small library whose times lie within a
 * minute of the published tables (upper limb on a level horizon with mean refraction; civil twilight at −6°). Hills
 * shorten the day: a valley's own horizon is not considered.
 */
import { getTimes } from "suncalc";
import { Fault } from "../fault.ts";
import { decimalYear } from "../geodesy/decimal-year.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";

/** Instants as milliseconds of UTC since 1970. */
export interface Daylight {
  /** Null when the sun does not come to 6° below the horizon that day. */
  readonly civilDawn: number | null;
  readonly sunrise: number | null;
  readonly sunset: number | null;
  readonly civilDusk: number | null;
  /** The sun stays up, or stays down, all day; null on a day with sunrise or sunset. */
  readonly allDay: "up" | "down" | null;
}

const DAY_MS = 86_400_000;

/**
 * Daylight on a calendar day at a place, by the day's solar noon there.
 * @param date YYYY-MM-DD, the day as counted at the place
 * @throws Fault "bad-argument" for a position or day that is none
 */
export function daylightOn(lonLat: LonLat, date: string): Daylight {
  const [lon, lat] = checkLonLat(lonLat);
  // Refuses what is no day before Date guesses at it.
  decimalYear(date);
  const noon = Date.parse(`${date}T12:00:00Z`) - (lon / 360) * DAY_MS;
  const times = getTimes(new Date(noon), lat, lon);
  const instant = (value: Date | null): number | null => value?.getTime() ?? null;
  return {
    civilDawn: instant(times.dawn),
    sunrise: instant(times.sunrise),
    sunset: instant(times.sunset),
    civilDusk: instant(times.dusk),
    allDay: times.alwaysUp ? "up" : times.alwaysDown ? "down" : null,
  };
}

export interface DaylightMargin {
  /** Seconds of light left on arriving; negative after dark. Null when the sun stays up or down. */
  readonly beforeSunsetS: number | null;
  readonly beforeDuskS: number | null;
  /** Whether any of the walk lies between civil dusk and civil dawn. */
  readonly dark: boolean;
}

/**
 * How a walk lies in the day's light.
 * @param startMs, endMs milliseconds of UTC, start before end
 * @throws Fault "bad-argument" when the end comes before the start or either is no number
 */
export function daylightMargin(
  { civilDawn, sunset, civilDusk, allDay }: Daylight,
  startMs: number,
  endMs: number,
): DaylightMargin {
  if (!(endMs >= startMs)) throw new Fault("bad-argument", "A walk must end after it begins.");
  const left = (limit: number | null): number | null => (limit === null ? null : (limit - endMs) / 1000);
  // Without a dawn or dusk that day it is light all night, unless the sun stays down and twilight never comes.
  const dark =
    civilDawn === null || civilDusk === null ? allDay === "down" : startMs < civilDawn || endMs > civilDusk;
  return { beforeSunsetS: left(sunset), beforeDuskS: left(civilDusk), dark };
}

/**
 * When to turn round at the latest so as to be back by a given instant, milliseconds of UTC: walking out at one speed
 * and back at another.
 * @param backShare time back over time out for the same ground: 1 on the level
 * @throws Fault "bad-argument" when there is no time at all or the share is not positive
 */
export function turnBackBy(startMs: number, backByMs: number, backShare = 1): number {
  if (!(backByMs > startMs) || !(backShare > 0 && backShare < Infinity))
    throw new Fault("bad-argument", "There is no time left to walk out and back.");
  return startMs + (backByMs - startMs) / (1 + backShare);
}
