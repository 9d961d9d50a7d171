/** How a leg's bearings and its declination were worked out. */
import { gridMagneticAngle, northRule } from "../../geodesy/north-rule.ts";
import { DEG } from "../../units/angle.ts";
import { formatDay, formatEastWest, formatHeight, formatNumber } from "../../units/format.ts";
import { bearingToSet, formatOn } from "../norths/bearing-to-set.ts";
import type { LegFigures } from "../figures.ts";
import { compassOf, exactBearing, exactEastWest, type HowAbout, northAsked, unitOf } from "./how-about.ts";
import { formatAlong } from "../leg-words.ts";
import { elevationAt } from "../profile-height.ts";

/** "− 14.20° E", "+ 4.00° W": an east-positive angle taken off a bearing. */
const takenOff = (degrees: number): string => `${degrees < 0 ? "+" : "−"} ${exactEastWest(degrees)}`;

export function howBearing(leg: LegFigures, about: HowAbout): string[] {
  const { bearingTrueDeg, bearingGridDeg, bearingMagneticDeg, gridConvergenceDeg, declinationDeg } = leg;
  if (bearingTrueDeg === null) return ["Both ends are the same place: there is no bearing."];
  const unit = unitOf(about);
  const sentences = [
    `True bearing ${exactBearing(bearingTrueDeg)}: the direction in which the shortest line to ${leg.to} leaves ${leg.from}, on the WGS 84 ellipsoid (Karney 2013).`,
  ];
  if (bearingGridDeg !== null && gridConvergenceDeg !== null)
    sentences.push(
      `Grid bearing ${exactBearing(bearingGridDeg)} = ${exactBearing(bearingTrueDeg)} ${takenOff(gridConvergenceDeg)} of convergence at ${leg.from}: what a protractor reads there on the UTM grid.`,
    );
  if (bearingMagneticDeg === null || declinationDeg === null) {
    sentences.push(...leg.notes.filter((note) => note.startsWith("No magnetic bearing")));
    return sentences;
  }
  sentences.push(
    `Magnetic bearing ${exactBearing(bearingMagneticDeg)} = ${exactBearing(bearingTrueDeg)} ${takenOff(declinationDeg)} of declination at the middle of the leg.`,
  );
  const compass = compassOf(about);
  const set = bearingToSet(leg, compass, northAsked(about));
  sentences.push(`On the compass, marked every ${formatMark(compass)}: ${set.words}, ${set.backWords}.`);
  const errorDeg = leg.declinationUncertaintyDeg;
  if (errorDeg !== null && errorDeg < 45)
    sentences.push(
      `The declination’s error of ± ${formatNumber(errorDeg, 1)}° is ± ${formatAlong(leg.distanceM * Math.tan(errorDeg * DEG), unit)} to the side at ${leg.to}.`,
    );
  sentences.push(...leg.notes.filter((note) => note.startsWith("Kept all the way")));
  return sentences;
}

function formatMark(compass: ReturnType<typeof compassOf>): string {
  // A mark is the bearing of the first one after north.
  return compass.unit === "mils" ? formatOn(compass, compass.graduationDeg) : `${compass.graduationDeg}°`;
}

export function howDeclination(leg: LegFigures, about: HowAbout): string[] {
  const { settings, figures } = about;
  const { declinationModelDeg: modelDeg, declinationPrintedDeg: printedDeg } = leg;
  const { use, printed } = settings.declination;
  const sentences: string[] = [];
  if (modelDeg !== null) {
    const heightM = elevationAt(leg.profile, leg.distanceM / 2);
    const height = heightM === null ? "at sea level" : `${formatHeight(heightM, unitOf(about))} up`;
    const error = figures.declination.modelUncertaintyDeg;
    sentences.push(
      `${figures.declination.model} (NOAA/NCEI and BGS) gives ${exactEastWest(modelDeg)} at the middle of the leg, ${height}, on ${formatDay(settings.date)}.`,
    );
    if (error !== null)
      sentences.push(
        `Its own error is ± ${formatNumber(error, 1)}°, one standard deviation; iron, power lines and magnetic rock come on top.`,
      );
    if (figures.declination.beyondModel)
      sentences.push(
        "The day lies beyond the model’s years: it was carried on, and may be wrong by degrees.",
      );
  }
  if (printedDeg !== null && printed) {
    const angle = printed.of === "declination" ? "declination" : "grid–magnetic angle";
    const convergence =
      printed.of === "gridMagnetic" && leg.gridConvergenceDeg !== null
        ? `, with ${exactEastWest(leg.gridConvergenceDeg)} of convergence`
        : "";
    const age = figures.declination.printedAgeYears;
    sentences.push(
      `The map’s margin gives a ${angle} of ${exactEastWest(printed.valueDeg)} for ${printed.year}, changing by ${exactEastWest(printed.annualChangeDeg)} a year: ${formatNumber(age, 1)} years on${convergence}, that is ${exactEastWest(printedDeg)}.`,
    );
    if (modelDeg !== null)
      sentences.push(
        `The two differ by ${formatNumber(Math.abs(printedDeg - modelDeg), 2)}°; ${use === "printed" ? "the map’s margin" : "the model"} rules, as chosen.`,
      );
  }
  if (leg.declinationDeg === null)
    return [...sentences, ...leg.notes.filter((note) => note.startsWith("No magnetic bearing"))];
  const change = figures.declination.annualChangeDeg;
  if (change !== null) sentences.push(`It changes by ${formatEastWest(change, 2)} a year.`);
  sentences.push(northRuleSentence(leg.declinationDeg, leg.gridConvergenceDeg, about));
  return sentences;
}

/** What to do at this place with a bearing measured on the map, in words: by the grid for who works on grid north. */
export function northRuleSentence(
  declinationDeg: number,
  gridConvergenceDeg: number | null,
  about: Pick<HowAbout, "north">,
): string {
  const grid = northAsked(about) === "grid" && gridConvergenceDeg !== null;
  const rule = grid
    ? northRule(gridMagneticAngle(declinationDeg, gridConvergenceDeg), "grid", 1)
    : northRule(declinationDeg, "true", 1);
  const reason = rule.reason.charAt(0).toUpperCase() + rule.reason.slice(1);
  return `${reason}; ${rule.toMagnetic}, ${rule.fromMagnetic}.`;
}
