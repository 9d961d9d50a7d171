/** The hours of a walk: arrivals, the day's light, and when to turn back. */
import { inverse } from "../../geodesy/geodesic.ts";
import { type Daylight, daylightMargin, daylightOn } from "../../travel/daylight.ts";
import type { LonLat } from "../../units/position.ts";
import type { LegFigures, WalkFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import { plainSpaces } from "../leg-words.ts";
import { turningBackMs } from "./turning-back.ts";
import { clockOf, instantOf, localIso, type Zone, zoneOf, zoneOffsetMs } from "./zoned-clock.ts";

type Hours = Pick<LegSettings, "date" | "startTime" | "backBy" | "timeZone">;

export type Timetable = Pick<
  WalkFigures,
  "legs" | "start" | "daylight" | "turnBackBy" | "timeZone" | "notes"
>;

const DAY_MS = 86_400_000;

/**
 * @param legs with running totals; those before the first without a time get their arrival
 * @param place where the sun is looked at: the middle of the walk; null for a walk without points
 * @throws Fault "bad-argument" for a day, clock time or zone that is none
 */
export function timetableOf(legs: readonly LegFigures[], place: LonLat | null, hours: Hours): Timetable {
  const { date, startTime } = hours;
  const zone = zoneOf(hours.timeZone);
  const sun = place && daylightOn(place, date);
  const iso = (ms: number | null): string | null => (ms === null ? null : localIso(ms, zone));
  const begin = startTime === null ? null : instantOf(date, startTime, zone);
  const startMs = begin?.ms ?? null;
  const walkedS = legs.at(-1)?.runningTimeS ?? null;
  const endMs = startMs === null || walkedS === null ? null : startMs + walkedS * 1000;
  const margin = sun && startMs !== null && endMs !== null ? daylightMargin(sun, startMs, endMs) : null;
  const turning = sun && startMs !== null ? turnBack(legs, sun, startMs, hours, zone) : null;
  const clock = (ms: number): string => clockOf(localIso(ms, zone), date) as string;
  return {
    legs: legs.map((leg) => ({
      ...leg,
      arrival: startMs === null || leg.runningTimeS === null ? null : iso(startMs + leg.runningTimeS * 1000),
    })),
    start: iso(startMs),
    daylight: sun && {
      civilDawn: iso(sun.civilDawn),
      sunrise: iso(sun.sunrise),
      sunset: iso(sun.sunset),
      civilDusk: iso(sun.civilDusk),
      allDay: sun.allDay,
      dark: margin?.dark ?? null,
      beforeSunsetS: margin?.beforeSunsetS ?? null,
    },
    turnBackBy: iso(turning?.ms ?? null),
    timeZone: zone.name,
    notes: [
      ...(begin === null ? [] : clockNotes(begin.times, startTime as string)),
      ...(sun && place ? zoneNotes(place, date, zone, startTime) : []),
      ...(sun ? lightNotes(sun, startMs, endMs, clock) : []),
      ...(turning?.notes ?? []),
    ].map(plainSpaces),
  };
}

function clockNotes(times: 0 | 1 | 2, startTime: string): string[] {
  if (times === 0) return [`There is no ${startTime} on that day: the clocks are put forward over it.`];
  if (times === 2)
    return [`${startTime} comes twice on that day, when the clocks are put back: the first is meant.`];
  return [];
}

/** Zones follow the sun to within three hours and a little: more is a clock from elsewhere. */
const ZONE_OFF_H = 3.75;

function zoneNotes([lon]: LonLat, date: string, zone: Zone, startTime: string | null): string[] {
  if (startTime === null) return [];
  const noon = Date.parse(`${date}T12:00:00Z`);
  const apart = (zoneOffsetMs(noon, zone) / 3_600_000 - lon / 15 + 36) % 24;
  if (Math.abs(apart - 12) <= ZONE_OFF_H) return [];
  return [
    `Clock times are those of ${zone.name}, ${Math.round(Math.abs(apart - 12))} h off the sun at this place: choose the walk’s time zone.`,
  ];
}

function lightNotes(
  sun: Daylight,
  startMs: number | null,
  endMs: number | null,
  clock: (ms: number) => string,
): string[] {
  const { civilDawn, sunset, civilDusk, allDay } = sun;
  if (allDay === "down") return ["The sun does not rise here on that day."];
  if (startMs === null || endMs === null) return [];
  const notes: string[] = [];
  if (civilDawn !== null && startMs < civilDawn)
    notes.push(`The walk begins in the dark: it gets light at ${clock(civilDawn)}.`);
  if (civilDusk !== null && endMs > civilDusk)
    notes.push(`The walk ends at ${clock(endMs)}, in the dark: it gets dark at ${clock(civilDusk)}.`);
  else if (sunset !== null && endMs > sunset)
    notes.push(`The walk ends at ${clock(endMs)}, after sunset at ${clock(sunset)}.`);
  return notes;
}

interface Turning {
  readonly ms: number | null;
  readonly notes: readonly string[];
}

function turnBack(
  legs: readonly LegFigures[],
  sun: Daylight,
  startMs: number,
  { date, backBy, startTime }: Hours,
  zone: Zone,
): Turning {
  if (legs.length === 0) return { ms: null, notes: [] };
  const limit = backBy === null ? sun.sunset : backByMs(date, backBy, zone, startMs);
  if (limit === null)
    return sun.allDay === "up"
      ? { ms: null, notes: ["The sun does not set here on that day: give a time to be back by."] }
      : { ms: null, notes: [] };
  const ways = legs.flatMap(({ timeS, timeBackS }) =>
    timeS === null || timeBackS === null ? [] : [{ timeS, timeBackS }],
  );
  // What the heights leave out is said with the legs.
  if (ways.length < legs.length) return { ms: null, notes: [] };
  const ms = turningBackMs(startMs, limit, ways);
  const walkedS = ways.reduce((sum, { timeS }) => sum + timeS, 0);
  // Wherever one turns on such a walk, it is early enough.
  if (ms !== null && endsAtStart(legs) && ms >= startMs + walkedS * 1000) return { ms: null, notes: [] };
  return {
    ms,
    notes: ms === null ? [`The sun has set before ${startTime}: there is no light to come back in.`] : [],
  };
}

/** Ends this near are one place to walk home from. */
const SAME_END_M = 200;

/** Whether the walk comes back to where it began. */
export function endsAtStart(legs: readonly Pick<LegFigures, "fromLonLat" | "toLonLat">[]): boolean {
  const [first, last] = [legs[0], legs.at(-1)];
  return !!first && !!last && inverse(first.fromLonLat, last.toLonLat).distanceM <= SAME_END_M;
}

/** On the day of the start or, when that has passed by then, the next. */
function backByMs(date: string, backBy: string, zone: Zone, startMs: number): number {
  const same = instantOf(date, backBy, zone).ms;
  if (same > startMs) return same;
  const next = new Date(Date.parse(`${date}T00:00:00Z`) + DAY_MS).toISOString().slice(0, 10);
  return instantOf(next, backBy, zone).ms;
}
