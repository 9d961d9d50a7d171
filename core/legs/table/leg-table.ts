/** The leg table as data: what goes in, and its columns. The formats lay them out. */
import {
  ABSENT,
  csvNumber,
  formatAngle,
  formatBearing,
  formatDuration,
  formatEastWest,
  formatHeight,
  formatLength,
  formatNumber,
  type LengthUnit,
} from "../../units/format.ts";
import {
  backBearingOn,
  bearingOn,
  type Compass,
  dialledNorth,
  formatOn,
  type North,
  USUAL_COMPASS,
} from "../norths/bearing-to-set.ts";
import {
  aimOffWords,
  attackWords,
  betterWords,
  escapeWordsIn,
  hazardWords,
  oddsWords,
} from "../aid-words.ts";
import type { Crossing, LegFigures } from "../figures.ts";
import { compassOf, type HowAbout, northAsked, unitOf } from "../how/how-about.ts";
import type { LegAdvice, WalkAdvice } from "../advice/advice.ts";
import { type Instruction, instructionOf } from "../instruction.ts";
import type { LegEnd } from "../leg-figures.ts";
import {
  AT_END_M,
  backstopWords,
  crossingWords,
  formatAlong,
  handrailWords,
  isSeenOnTheWay,
  landformWords,
  plainSpaces,
  sightWords,
} from "../leg-words.ts";
import { SHOWN_HANDRAILS } from "../aids/handrails.ts";
import { clockOf } from "../times/zoned-clock.ts";

/** What a table is of, and how it is to be read: north, compass and unit of lengths; programs get metres and all norths. */
export interface LegTable extends HowAbout {
  readonly title: string;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** All points of the walk in order. */
  readonly points: readonly LegEnd[];
  /** The walker's own notes to the whole walk. */
  readonly notes?: string;
  /** The walker's own lines, by leg; null where the program's stands. */
  readonly ownInstructions?: readonly (Omit<Instruction, "from"> | null)[];
  /** Odds, what would help, and the way out; absent when it was not asked for. */
  readonly advice?: WalkAdvice;
  /** Whether each leg is also told in plain words, under its figures; programs get that anyhow. Default no. */
  readonly describe?: boolean;
}

/** A leg's line: the person's own, else the program's. */
export function instructionIn(table: LegTable, leg: LegFigures): Instruction {
  const own = table.ownInstructions?.[leg.n - 1];
  return own
    ? { ...own, from: "person" }
    : { text: instructionOf(leg, table), from: "program", mayBeStale: false };
}

/** A column: how a leg fills it, for people and for programs. */
export interface LegColumn {
  readonly id: string;
  readonly heading: (table: LegTable) => string;
  readonly align: "left" | "right";
  /** For people: rounded, with its unit. */
  readonly text: (leg: LegFigures, table: LegTable) => string;
  /** For programs: internal units, "." as the decimal point, empty when absent. */
  readonly value: (leg: LegFigures, table: LegTable) => string;
}

/** Where the north is not said the bearing is useless, so the heading says it. */
const NORTH_WORDS = { magnetic: "Magnetic", grid: "Grid", true: "True" } as const;

/** The north that is dialled on the compass. */
const dialled = (table: LegTable): North => dialledNorth(compassOf(table), northAsked(table));
/** Whether the compass is dialled on another north than the one the user works on. */
const dialsAnother = (table: LegTable): boolean => dialled(table) !== northAsked(table);

/** The column with the bearing to dial. */
export const dialColumn = (table: LegTable): LegColumnId => (dialsAnother(table) ? "other" : "bearing");

/** The north beside the chosen one: the one to dial when that is another, else grid for the map or magnetic for the compass. */
function otherNorth(table: LegTable): North {
  if (dialsAnother(table)) return dialled(table);
  return northAsked(table) === "magnetic" ? "grid" : "magnetic";
}

const number = (
  id: string,
  heading: string | ((table: LegTable) => string),
  figure: (leg: LegFigures) => number | null,
  decimals: number,
  text: (value: number | null, table: LegTable) => string,
): LegColumn => ({
  id,
  heading: typeof heading === "string" ? () => heading : heading,
  align: "right",
  text: (leg, table) => text(figure(leg), table),
  value: (leg) => csvNumber(figure(leg), decimals),
});

const words = (
  id: string,
  heading: string,
  text: (leg: LegFigures, unit: LengthUnit) => string,
): LegColumn => ({
  id,
  heading: () => heading,
  align: "left",
  text: (leg, table) => text(leg, unitOf(table)),
  value: (leg) => text(leg, "metric").replace(/[\u00a0\u202f]/g, " "),
});

/** A sentence about an aid; for programs in degrees and metres. */
const aid = (
  id: string,
  heading: string,
  text: (leg: LegFigures, compass: Compass, unit: LengthUnit, advice: LegAdvice | undefined) => string,
): LegColumn => ({
  id,
  heading: () => heading,
  align: "left",
  text: (leg, table) => text(leg, compassOf(table), unitOf(table), table.advice?.legs[leg.n - 1]),
  value: (leg, table) => plainSpaces(text(leg, USUAL_COMPASS, "metric", table.advice?.legs[leg.n - 1])),
});

const bearing = (value: number | null, table: LegTable): string => {
  const compass = compassOf(table);
  return compass.unit === "degrees"
    ? formatBearing(value, { graduationDeg: compass.graduationDeg, threeFigures: true })
    : // "mils" stands in the heading: with it in three cells the row would not fit the paper.
      formatOn(compass, value).replace(/\u00a0mils$/, "");
};
/** " mils" after a heading of bearings in mils. */
const inMils = (table: LegTable): string => (compassOf(table).unit === "mils" ? " mils" : "");
const along = (value: number | null, table: LegTable): string => formatAlong(value, unitOf(table));
const length = (value: number | null, table: LegTable): string => formatLength(value, unitOf(table));
const height = (value: number | null, table: LegTable): string => formatHeight(value, unitOf(table));

const chosenBearing = (
  id: string,
  heading: (table: LegTable) => string,
  figure: (leg: LegFigures, table: LegTable) => number | null,
): LegColumn => ({
  id,
  heading,
  align: "right",
  text: (leg, table) => bearing(figure(leg, table), table),
  // For people only: programs get the columns that name their north.
  value: () => "",
});

/** Every column there is, by id. Ids of figures are the names of the JSON contract. */
export const LEG_COLUMNS = {
  n: number(
    "n",
    "Leg",
    (leg) => leg.n,
    0,
    (value) => formatNumber(value),
  ),
  from: words("from", "From", (leg) => leg.from),
  to: words("to", "To", (leg) => leg.to),
  fromLon: number(
    "fromLon",
    "From longitude",
    (leg) => leg.fromLonLat[0],
    7,
    (value) => formatNumber(value, 5),
  ),
  fromLat: number(
    "fromLat",
    "From latitude",
    (leg) => leg.fromLonLat[1],
    7,
    (value) => formatNumber(value, 5),
  ),
  toLon: number(
    "toLon",
    "To longitude",
    (leg) => leg.toLonLat[0],
    7,
    (value) => formatNumber(value, 5),
  ),
  toLat: number(
    "toLat",
    "To latitude",
    (leg) => leg.toLonLat[1],
    7,
    (value) => formatNumber(value, 5),
  ),
  bearing: chosenBearing(
    "bearing",
    (table) => `${NORTH_WORDS[northAsked(table)]}${inMils(table) || " bearing"}`,
    (leg, table) => bearingOn(leg, northAsked(table)),
  ),
  /** The way back is dialled, never read off the map. */
  back: chosenBearing(
    "back",
    (table) => `Back${inMils(table)}`,
    (leg, table) => backBearingOn(leg, dialled(table)),
  ),
  other: chosenBearing(
    "other",
    (table) => `${NORTH_WORDS[otherNorth(table)]}${inMils(table)}${dialsAnother(table) ? ", to set" : ""}`,
    (leg, table) => bearingOn(leg, otherNorth(table)),
  ),
  bearingTrueDeg: number("bearingTrueDeg", "True", (leg) => leg.bearingTrueDeg, 4, bearing),
  bearingGridDeg: number("bearingGridDeg", "Grid", (leg) => leg.bearingGridDeg, 4, bearing),
  bearingMagneticDeg: number("bearingMagneticDeg", "Magnetic", (leg) => leg.bearingMagneticDeg, 4, bearing),
  backBearingMagneticDeg: number(
    "backBearingMagneticDeg",
    "Back magnetic",
    (leg) => leg.backBearingMagneticDeg,
    4,
    bearing,
  ),
  gridConvergenceDeg: number(
    "gridConvergenceDeg",
    "Convergence",
    (leg) => leg.gridConvergenceDeg,
    4,
    (value) => formatEastWest(value),
  ),
  declinationDeg: number(
    "declinationDeg",
    "Declination",
    (leg) => leg.declinationDeg,
    4,
    (value) => formatEastWest(value),
  ),
  declinationModelDeg: number(
    "declinationModelDeg",
    "By the model",
    (leg) => leg.declinationModelDeg,
    4,
    (value) => formatEastWest(value),
  ),
  declinationPrintedDeg: number(
    "declinationPrintedDeg",
    "As printed",
    (leg) => leg.declinationPrintedDeg,
    4,
    (value) => formatEastWest(value),
  ),
  rhumbOffsetM: number("rhumbOffsetM", "One bearing off by", (leg) => leg.rhumbOffsetM, 3, along),
  distanceM: number("distanceM", "Distance", (leg) => leg.distanceM, 3, along),
  slopeDistanceM: number("slopeDistanceM", "Over the slope", (leg) => leg.slopeDistanceM, 3, along),
  climbM: number("climbM", "Climb", (leg) => leg.climbM, 2, height),
  descentM: number("descentM", "Descent", (leg) => leg.descentM, 2, height),
  steepestDeg: number(
    "steepestDeg",
    "Steepest",
    (leg) => leg.steepestDeg,
    2,
    (value) => formatAngle(value),
  ),
  elevationErrorM: number("elevationErrorM", "Height ±", (leg) => leg.elevationErrorM, 2, height),
  paces: number(
    "paces",
    ({ settings }) => (settings.paceSteps === 2 ? "Double paces" : "Single paces"),
    (leg) => leg.paces,
    0,
    (value) => formatNumber(value),
  ),
  timeS: number(
    "timeS",
    "Time",
    (leg) => leg.timeS,
    0,
    (value) => formatDuration(value),
  ),
  arrival: {
    id: "arrival",
    heading: () => "Arrive",
    align: "right",
    text: (leg, table) => clockOf(leg.arrival, table.date) ?? ABSENT,
    value: (leg) => leg.arrival ?? "",
  },
  runningDistanceM: number("runningDistanceM", "Distance so far", (leg) => leg.runningDistanceM, 3, length),
  runningTimeS: number(
    "runningTimeS",
    "Time so far",
    (leg) => leg.runningTimeS,
    0,
    (value) => formatDuration(value),
  ),
  // Contours are counted on the map; who checks off what he meets sees none.
  crossings: {
    id: "crossings",
    heading: () => "Meets",
    align: "left",
    text: (leg, table) => metWords(leg.crossings.filter(isSeenOnTheWay), unitOf(table)),
    value: (leg) => plainSpaces(metWords(leg.crossings, "metric")),
  },
  landforms: words("landforms", "Ground", (leg, unit) =>
    leg.landforms.map((landform) => landformWords(landform, unit)).join("; "),
  ),
  sight: words("sight", "Sight", sightWords),
  onTheWay: words("onTheWay", "On the way", (leg) => leg.onTheWay.map((step) => step.words).join(" ")),
  handrails: words("handrails", "Follow", (leg, unit) =>
    leg.handrails
      .slice(0, SHOWN_HANDRAILS)
      .map((handrail) => handrailWords(handrail, unit, leg.distanceM))
      .join("; "),
  ),
  backstop: words("backstop", "Stop", (leg, unit) => (leg.backstop ? backstopWords(leg.backstop, unit) : "")),
  instruction: {
    id: "instruction",
    heading: () => "Do",
    align: "left",
    text: (leg, table) => {
      const { text, mayBeStale } = instructionIn(table, leg);
      return mayBeStale ? `${text} (written before the leg was changed)` : text;
    },
    value: (leg, table) => instructionIn(table, leg).text,
  },
  attackPoints: aid("attackPoints", "Go by", (leg, compass, unit) =>
    leg.attackPoints.map((point) => attackWords(point, compass, unit)).join("; or "),
  ),
  aimOff: aid("aimOff", "Aim off", (leg, compass, unit) =>
    leg.aimOff ? aimOffWords(leg.aimOff, compass, unit) : "",
  ),
  hazards: aid("hazards", "Mind", (leg, _, unit) =>
    leg.hazards.map((hazard) => hazardWords(hazard, unit)).join("; "),
  ),
  odds: aid("odds", "Odds", (_leg, _compass, _unit, advice) => (advice ? oddsWords(advice) : "")),
  better: aid("better", "Better", (_leg, _compass, _unit, advice) => (advice ? betterWords(advice) : "")),
  escape: aid("escape", "Way out", (_leg, compass, unit, advice) =>
    advice?.escape ? escapeWordsIn(advice.escape, compass, unit) : "",
  ),
  notes: words("notes", "Notes", (leg) => leg.notes.join(" ")),
} as const satisfies Record<string, LegColumn>;

/** What is met after the start, in order. */
function metWords(crossings: readonly Crossing[], unit: LengthUnit): string {
  return crossings
    .filter(({ atM }) => atM >= AT_END_M)
    .map((crossing) => crossingWords(crossing, unit))
    .join("; ");
}
export type LegColumnId = keyof typeof LEG_COLUMNS;

const columns = (...ids: LegColumnId[]): readonly LegColumn[] => ids.map((id) => LEG_COLUMNS[id]);

/**
 * The figures for people, on paper and in a terminal; from and to stand before them. The bearing to dial stands beside the way
 * back; with a time of setting out the time so far is told as the clock.
 */
export function sheetColumns(table: LegTable): readonly LegColumn[] {
  return columns(
    "bearing",
    ...((dialsAnother(table) ? ["other", "back"] : ["back", "other"]) as LegColumnId[]),
    "distanceM",
    "paces",
    "climbM",
    "descentM",
    "steepestDeg",
    "timeS",
    "runningDistanceM",
    table.figures.start === null ? "runningTimeS" : "arrival",
  );
}
/** What follows a leg's figures in sentences. */
export const AID_COLUMNS = columns(
  "instruction",
  "crossings",
  "handrails",
  "backstop",
  "attackPoints",
  "aimOff",
  "hazards",
  "odds",
  "better",
  "escape",
  "sight",
  "notes",
);
/** Everything, for spreadsheets. */
export const CSV_COLUMNS = columns(
  "n",
  "from",
  "to",
  "fromLon",
  "fromLat",
  "toLon",
  "toLat",
  "bearingTrueDeg",
  "bearingGridDeg",
  "bearingMagneticDeg",
  "backBearingMagneticDeg",
  "gridConvergenceDeg",
  "declinationDeg",
  "declinationModelDeg",
  "declinationPrintedDeg",
  "distanceM",
  "rhumbOffsetM",
  "slopeDistanceM",
  "climbM",
  "descentM",
  "steepestDeg",
  "elevationErrorM",
  "paces",
  "timeS",
  "arrival",
  "runningDistanceM",
  "runningTimeS",
  "crossings",
  "landforms",
  "handrails",
  "backstop",
  "sight",
  "attackPoints",
  "aimOff",
  "hazards",
  "odds",
  "better",
  "escape",
  "onTheWay",
  "instruction",
  "notes",
);
