/** How paces, times and daylight of a leg were worked out. */
import { SLOPE_BEGINS_DEG } from "../../travel/paces-on-slope.ts";
import { STRETCH_M } from "../../travel/stretches.ts";
import { TIME_METHODS, type TimeFactors, type TimeMethod } from "../../travel/walking-time.ts";
import { formatDay, formatDuration, formatHeight, formatNumber } from "../../units/format.ts";
import type { LegFigures } from "../figures.ts";
import { heightsSentence, type HowAbout, unitOf } from "./how-about.ts";
import { formatAlong } from "../leg-words.ts";
import { countsOnSlope } from "../pace-figures.ts";
import { daylightWords, sunsetMarginWords } from "../times/daylight-words.ts";
import { clockOf } from "../times/zoned-clock.ts";

export function howPaces(leg: LegFigures, about: HowAbout): string[] {
  const { settings } = about;
  const { pacesPer100m: flat, upPer100m, downPer100m, paceSteps } = settings;
  const unit = unitOf(about);
  const pace = paceSteps === 2 ? "double paces (two steps)" : "single paces (one step)";
  if (leg.paces === null) return ["There is no pace count."];
  if (leg.pacesOnSlope)
    return [
      `${formatNumber(leg.paces)} ${pace} over ${formatAlong(leg.distanceM, unit)} of map distance: ${formatNumber(flat)} to 100 m on the flat, ${formatNumber(upPer100m ?? flat)} going up and ${formatNumber(downPer100m ?? flat)} going down.`,
      `Up and down begin at ${SLOPE_BEGINS_DEG}° (common practice), looked at over stretches of up to ${formatAlong(STRETCH_M, unit)}.`,
      heightsSentence(leg, unit),
    ];
  const beads = Math.floor(leg.distanceM / 100);
  return [
    `${formatNumber(leg.paces)} ${pace}: ${formatAlong(leg.distanceM, unit)} of map distance at ${formatNumber(flat)} to 100 m.`,
    `With a bead for every ${formatNumber(flat)} paces: ${beads} ${beads === 1 ? "bead" : "beads"}, then ${formatNumber(Math.max(0, leg.paces - Math.round(beads * flat)))} paces.`,
    ...(countsOnSlope(settings) ? leg.notes.filter((note) => note.startsWith("Paces are")) : []),
  ];
}

const SOURCES: Readonly<Record<TimeMethod, string>> = {
  naismith: "Naismith 1892, in its customary metric form",
  naismith1892: "Naismith 1892",
  langmuir: "Langmuir 1984",
  tobler: "Tobler 1993",
  toblerOffPath: "Tobler 1993, the six tenths from memory",
  din33466: "DIN 33466:2003, as the German and Austrian alpine clubs apply it",
  swiss: "the formula behind Swiss footpath signs",
};

export function howTime(leg: LegFigures, about: HowAbout): string[] {
  const { timeMethod, timeFactors } = about.settings;
  const unit = unitOf(about);
  if (leg.timeS === null) return [heightsSentence(leg, unit)];
  const along = timeMethod !== "naismith" && timeMethod !== "naismith1892" && timeMethod !== "din33466";
  const inputs = along
    ? `the slope of every stretch of up to ${formatAlong(STRETCH_M, unit)}`
    : `${formatAlong(leg.distanceM, unit)}, ${formatHeight(leg.climbM, unit)} up${timeMethod === "din33466" ? ` and ${formatHeight(leg.descentM, unit)} down` : ""}`;
  return [
    `${TIME_METHODS[timeMethod].rule.replace(/\.$/, "")} (${SOURCES[timeMethod]}).`,
    `From ${inputs}${factorWords(timeFactors)}: ${formatDuration(leg.timeS)}, and ${formatDuration(leg.timeBackS)} for the way back.`,
    "The rule knows nothing of weather, darkness and finding the way: they take more.",
  ];
}

/** ", times 1.2 for the party, with 10 min of rest an hour"; empty when nothing is added. */
export function factorWords({ party, load, surface, breakMinPerHour }: TimeFactors): string {
  const factors = [
    [party, "the party"],
    [load, "the load"],
    [surface, "the surface"],
  ] as const;
  const times = factors
    .filter(([factor]) => factor !== 1)
    .map(([factor, what]) => `, times ${formatNumber(factor, 2).replace(/\.?0+$/, "")} for ${what}`);
  const rest = breakMinPerHour > 0 ? `, with ${formatNumber(breakMinPerHour)} min of rest an hour` : "";
  return times.join("") + rest;
}

export function howArrival(leg: LegFigures, { figures, settings }: HowAbout): string[] {
  const clock = (iso: string | null): string => clockOf(iso, settings.date) ?? "–";
  if (figures.start === null) return ["The walk has no time of setting out."];
  if (leg.arrival === null)
    return ["A leg up to here has no walking time, because heights are missing on it."];
  return [
    `${clock(leg.arrival)} = ${clock(figures.start)} and ${formatDuration(leg.runningTimeS)} of walking up to ${leg.to}, rests included, by the clock of ${figures.timeZone}.`,
  ];
}

export function howDaylight(about: HowAbout): string[] {
  const { figures, settings } = about;
  const { daylight, turnBackBy, timeZone } = figures;
  if (!daylight) return ["A walk without points has no place in the sun."];
  const words = daylightWords(daylight, settings.date);
  const sentences = [
    `${words.charAt(0).toUpperCase()}${words.slice(1)}, at the middle of the walk on ${formatDay(settings.date)}, by the clock of ${timeZone}.`,
    "Within a minute for a level horizon: hills around bring sunset on earlier. Civil twilight ends with the sun 6° down.",
  ];
  const margin = sunsetMarginWords(daylight);
  if (margin !== null) sentences.push(`The walk ends ${margin}.`);
  if (turnBackBy !== null)
    sentences.push(
      `Who turns round by ${clockOf(turnBackBy, settings.date)} and walks the same way back is at the start by ${settings.backBy ?? "sunset"}, by the same rule of walking time.`,
    );
  return sentences;
}
