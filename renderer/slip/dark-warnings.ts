/** What of a walk lies in the dark, in sentences; none when it all lies in the light or its hours are not known. Pure. */
import type { WalkFigures } from "../../core/legs/figures.ts";
import { clockOf } from "../../core/legs/times/zoned-clock.ts";
import { settingsWords } from "../words/settings-words.ts";

const words = settingsWords.slip.dark;

/** @param date of the walk, YYYY-MM-DD: clock times of another day say so */
export function darkWarnings(
  { start, legs, daylight }: Pick<WalkFigures, "start" | "legs" | "daylight">,
  date: string,
): readonly string[] {
  if (!daylight) return [];
  if (daylight.allDay === "down") return [words.noSun];
  const end = legs.at(-1)?.arrival ?? null;
  const { civilDawn, sunset, civilDusk } = daylight;
  const after = (a: string | null, b: string | null): boolean =>
    a !== null && b !== null && Date.parse(a) > Date.parse(b);
  const clock = (iso: string | null): string => clockOf(iso, date) ?? "";
  const warnings: string[] = [];
  if (after(civilDawn, start)) warnings.push(words.begins(clock(civilDawn)));
  if (after(end, civilDusk)) warnings.push(words.ends(clock(end), clock(civilDusk)));
  else if (after(end, sunset)) warnings.push(words.late(clock(end), clock(sunset)));
  return warnings;
}
