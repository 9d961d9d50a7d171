/** What stands around a leg table on paper and in a terminal: which map, which declination, how the figures were made. */
import {
  formatDay,
  formatBearing,
  formatEastWest,
  formatHeight,
  formatLength,
  formatNumber,
  type LengthUnit,
} from "../../units/format.ts";
import { TIME_METHODS } from "../../travel/walking-time.ts";
import { HAZARD_CAUTION } from "../aids/hazards.ts";
import { climbThresholdM } from "../climb-threshold.ts";
import { formatAlong } from "../leg-words.ts";
import { kindAndName } from "../line-kinds.ts";
import { adjustmentDeg, dialledNorth } from "../norths/bearing-to-set.ts";
import { daylightWords, sunsetMarginWords } from "../times/daylight-words.ts";
import { BARE_EARTH } from "../../terrain/line-of-sight.ts";
import type { DeclinationFigure, LegFigures } from "../figures.ts";
import { compassOf, northAsked, unitOf } from "../how/how-about.ts";
import { northRuleSentence } from "../how/how-norths.ts";
import { factorWords } from "../how/how-travel.ts";
import type { LegTable } from "./leg-table.ts";
import { clockOf } from "../times/zoned-clock.ts";

/** What is said of the map, in sentences. */
export function mapStatement({ map }: LegTable): string {
  if (!map) return "No map: bearings, distances and paces only.";
  const interval =
    map.interval && `contour interval ${formatNumber(map.interval.value)}\u00a0${map.interval.unit}`;
  const parts = [
    `Map: ${[map.title, interval].filter(Boolean).join(", ")}`,
    [map.source, map.date].filter(Boolean).join(", "),
    map.attribution ?? "",
  ];
  // Sources and attributions come with and without a full stop of their own.
  return parts
    .map((part) => part.trim().replace(/\.$/, ""))
    .filter((part) => part !== "")
    .map((part) => `${part}.`)
    .join(" ");
}

/** The declination that rules, with source, day and error, and the other one beside it when both are known. */
export function declinationStatement({ figures, date, settings }: LegTable): string {
  const { deg, uncertaintyDeg, annualChangeDeg, model, from, beyondModel } = figures.declination;
  if (deg === null) return "Declination: not known.";
  const error = uncertaintyDeg === null ? "" : ` ± ${formatNumber(uncertaintyDeg, 1)}°`;
  const change = annualChangeDeg === null ? "" : `, changing by ${formatEastWest(annualChangeDeg, 2)} a year`;
  const { printed } = settings.declination;
  const source =
    from === "printed" && printed
      ? `from the map’s margin (${formatEastWest(printed.valueDeg, 2)} in ${printed.year})`
      : `by ${model ?? "an unnamed model"}${beyondModel ? ", carried on beyond its years" : ""}`;
  return `Declination ${formatEastWest(deg)}${error} on ${formatDay(date)} ${source}${change}.${otherDeclination(figures.declination)}`;
}

function otherDeclination({ from, model, modelDeg, printedDeg, differenceDeg }: DeclinationFigure): string {
  if (differenceDeg === null) return "";
  const other =
    from === "printed"
      ? `${model ?? "The model"} gives ${formatEastWest(modelDeg)}`
      : `The map’s margin gives ${formatEastWest(printedDeg)}`;
  return ` ${other}, ${formatNumber(Math.abs(differenceDeg), 1)}° apart.`;
}

/** What to do with a bearing of the map before it is dialled, in words for this place; empty when nothing is known. */
export function northStatement(table: LegTable): string {
  const { deg, gridConvergenceDeg } = table.figures.declination;
  if (deg === null) return "";
  const compass = compassOf(table);
  const north = northAsked(table);
  const adjustment = adjustmentDeg(compass, north, deg, gridConvergenceDeg);
  return adjustment === null
    ? northRuleSentence(deg, gridConvergenceDeg, table)
    : `Set ${formatEastWest(adjustment)} on the compass and dial ${dialledNorth(compass, north)} bearings.`;
}

/** Start, end, daylight and turning back, by the walk's clock. */
export function hoursStatements({ figures, settings, date }: LegTable): string[] {
  const { start, daylight, turnBackBy, timeZone, legs } = figures;
  if (!daylight) return [];
  const clock = (iso: string): string => clockOf(iso, date) as string;
  const end = legs.at(-1)?.arrival ?? null;
  const margin = sunsetMarginWords(daylight);
  const words = daylightWords(daylight, date);
  const walk =
    start === null
      ? []
      : [
          `Start ${clock(start)}${end === null ? "" : `, end ${clock(end)}${margin === null ? "" : `, ${margin}`}`}.`,
          ...(turnBackBy === null
            ? []
            : [
                `Turn back the same way by ${clock(turnBackBy)} to be at the start by ${settings.backBy ?? "sunset"}.`,
              ]),
        ];
  return [
    [
      ...walk,
      `${words.charAt(0).toUpperCase()}${words.slice(1)} (clock of ${timeZone}, level horizon).`,
    ].join(" "),
  ];
}

/** How the figures were made: one sentence each. */
export function methodStatements(table: LegTable): string[] {
  const { settings, map, figures } = table;
  const unit = unitOf(table);
  const threshold = formatHeight(climbThresholdM(settings, map?.interval ?? null), unit);
  const heights = heightsStatement(figures.legs, unit);
  const reasons = figures.legs.flatMap(({ landformsReason }) => landformsReason ?? []);
  const sights = figures.legs.flatMap(({ sight }) =>
    sight.targetVisible === null ? (sight.reason ?? []) : [],
  );
  const dangers = figures.legs.flatMap(({ hazardNotes }) => hazardNotes);
  return [
    paceStatement(table),
    ...(heights === null
      ? []
      : [`${heights}; rises and falls under ${threshold} are not counted.`, timeStatement(table)]),
    // Without a map that is said at the top.
    ...(map ? [...new Set([...reasons, ...sights, ...dangers])] : []),
    ...(figures.legs.some(({ hazards }) => hazards.length > 0) ? [HAZARD_CAUTION] : []),
    ...oddsStatements(table.advice, unit),
    ...(figures.legs.some(({ sight }) => sight.targetVisible !== null) ? [BARE_EARTH] : []),
    ...(map
      ? [
          `Lines to follow lie within ${formatLength(settings.handrailOffsetM, unit)} and ${formatNumber(settings.handrailToleranceDeg)}° of the leg; stops are looked for up to ${formatLength(settings.backstopReachM, unit)} beyond the target, across a drift of ${formatNumber(settings.driftDeg)}° to either side.`,
        ]
      : []),
  ];
}

/** How the odds were found, and the one way out of the whole walk. */
function oddsStatements(advice: LegTable["advice"], unit: LengthUnit): string[] {
  if (!advice || !advice.legs.some(({ odds }) => odds !== null)) return [];
  const { settings, escape, notes } = advice;
  const steering =
    settings.steering === "marks"
      ? "who sight along steering marks"
      : "who keep the compass in hand, without steering marks";
  return [
    `Odds are shares of ${formatNumber(settings.walkers)} simulated walkers ${steering}, count paces to ${formatNumber(settings.paceError * 100, 1)} % and see the target from ${formatAlong(settings.sightM, unit)}: a comparison of ways, no promise.`,
    escape
      ? `From anywhere on the walk ${formatBearing(escape.bearingMagneticDeg)} magnetic leads to the ${kindAndName(escape.kind, escape.name)}, ${formatAlong(escape.worstM, unit)} at most.`
      : "No one bearing leads out from everywhere on the walk.",
    ...notes,
  ];
}

/** "Heights from the terrain model on legs 1–3, from the contours alone, ± 5 m, on leg 4"; null when no leg has any. */
function heightsStatement(legs: readonly LegFigures[], unit: LengthUnit): string | null {
  const by = new Map<string, number[]>();
  for (const { n, profile } of legs) {
    const { from, errorM } = profile;
    const source =
      from === null
        ? "none"
        : from === "terrain"
          ? "from the terrain model"
          : `from the contours alone${errorM === null ? "" : `, ± ${formatHeight(errorM, unit)}`}`;
    by.set(source, [...(by.get(source) ?? []), n]);
  }
  if (by.size === 0 || (by.size === 1 && by.has("none"))) return null;
  if (by.size === 1) return `Heights ${[...by.keys()][0]}`;
  return `Heights ${Array.from(by, ([source, at]) => `${source} on ${legsWords(at)}`).join("; ")}`;
}

/** "leg 4", "legs 1–3, 7" */
function legsWords(numbers: readonly number[]): string {
  const runs: string[] = [];
  for (let i = 0; i < numbers.length; i++) {
    const start = numbers[i] as number;
    let last = start;
    while (numbers[i + 1] === last + 1) last = numbers[++i] as number;
    runs.push(last === start ? `${start}` : `${start}–${last}`);
  }
  return `${numbers.length === 1 ? "leg" : "legs"} ${runs.join(", ")}`;
}

function paceStatement({ settings, figures }: LegTable): string {
  const { pacesPer100m: flat, upPer100m, downPer100m, paceSteps } = settings;
  const pace = paceSteps === 2 ? "double" : "single";
  const to = "to 100\u00a0m of map distance";
  if (!figures.legs.some(({ pacesOnSlope }) => pacesOnSlope))
    return `${formatNumber(flat)} ${pace} paces ${to}.`;
  return `${formatNumber(flat)} ${pace} paces ${to} on the flat, ${formatNumber(upPer100m ?? flat)} going up, ${formatNumber(downPer100m ?? flat)} going down.`;
}

function timeStatement({ settings: { timeMethod, timeFactors } }: LegTable): string {
  const { title, rule } = TIME_METHODS[timeMethod];
  const rests = timeFactors.breakMinPerHour > 0 ? "" : ", without rests";
  return `Walking time by ${title} (${rule.replace(/\.$/, "")})${factorWords(timeFactors)}${rests}.`;
}
