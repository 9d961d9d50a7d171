/** The day's light in words, for slip, table and explanations. */
import { ABSENT, formatDuration } from "../../units/format.ts";
import type { DaylightFigure } from "../figures.ts";
import { clockOf } from "./zoned-clock.ts";

/** "sunrise 04:31, sunset 21:45; civil twilight from 03:40 to 22:36", or that the sun stays up or down. */
export function daylightWords(
  { civilDawn, sunrise, sunset, civilDusk, allDay }: DaylightFigure,
  date: string,
): string {
  const clock = (iso: string | null): string => clockOf(iso, date) ?? ABSENT;
  const twilight =
    civilDawn === null && civilDusk === null
      ? allDay === "down"
        ? "no twilight"
        : "it does not get dark"
      : `civil twilight from ${clock(civilDawn)} to ${clock(civilDusk)}`;
  if (allDay === "up") return "the sun does not set";
  if (allDay === "down") return `the sun does not rise; ${twilight}`;
  return `sunrise ${clock(sunrise)}, sunset ${clock(sunset)}; ${twilight}`;
}

/** "1 h 20 min before sunset", "25 min after sunset"; null when not known. */
export function sunsetMarginWords({ beforeSunsetS }: DaylightFigure): string | null {
  if (beforeSunsetS === null) return null;
  return `${formatDuration(Math.abs(beforeSunsetS))} ${beforeSunsetS < 0 ? "after" : "before"} sunset`;
}
