/** The leg table as data: what goes in, and its columns. The formats lay them out. */
import type { MapInfo } from "../map/metadata.ts";
import { normalise360 } from "../units/angle.ts";
import {
  csvNumber,
  formatAngle,
  formatBearing,
  formatDuration,
  formatEastWest,
  formatHeight,
  formatLength,
  formatNumber,
  type LengthUnit,
} from "../units/format.ts";
import type { LegFigures, WalkFigures } from "./figures.ts";
import type { LegEnd } from "./leg-figures.ts";
import type { LegSettings } from "./leg-settings.ts";
import { AT_END_M, backstopWords, crossingWords, formatAlong, handrailWords } from "./leg-words.ts";
import { SHOWN_HANDRAILS } from "./handrails.ts";

export interface LegTable {
  readonly title: string;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** All points of the walk in order. */
  readonly points: readonly LegEnd[];
  readonly figures: WalkFigures;
  readonly map: MapInfo | null;
  readonly settings: LegSettings;
  /** The north of the first bearing column, for people; programs get all three. Default magnetic. */
  readonly north?: "magnetic" | "grid" | "true";
  /** Default metric; files for programs are always metric. */
  readonly lengthUnit?: LengthUnit;
  /** The walker's own notes to the whole walk. */
  readonly notes?: string;
}

/** A column: how a leg fills it, for people and for programs. */
export interface LegColumn {
  readonly id: string;
  readonly heading: (table: LegTable) => string;
  readonly align: "left" | "right";
  /** For people: rounded, with its unit. */
  readonly text: (leg: LegFigures, table: LegTable) => string;
  /** For programs: internal units, "." as the decimal point, empty when absent. */
  readonly value: (leg: LegFigures) => string;
}

/** Where the north is not said the bearing is useless, so the heading says it. */
const NORTH_WORDS = { magnetic: "Magnetic", grid: "Grid", true: "True" } as const;

export const northOf = (table: LegTable): "magnetic" | "grid" | "true" => table.north ?? "magnetic";
export const unitOf = (table: LegTable): LengthUnit => table.lengthUnit ?? "metric";

/** A leg's bearing on a north, degrees; null when absent. */
export function bearingOn(leg: LegFigures, north: "magnetic" | "grid" | "true"): number | null {
  return { magnetic: leg.bearingMagneticDeg, grid: leg.bearingGridDeg, true: leg.bearingTrueDeg }[north];
}

/** The north shown beside the chosen one: grid for reading the map, else magnetic for the compass. */
const otherNorth = (table: LegTable): "magnetic" | "grid" =>
  northOf(table) === "magnetic" ? "grid" : "magnetic";

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

const bearing = (value: number | null): string => formatBearing(value, { threeFigures: true });
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
  text: (leg, table) => bearing(figure(leg, table)),
  // For people only: programs get the columns that name their north.
  value: () => "",
});

const turned = (degrees: number | null): number | null =>
  degrees === null ? null : normalise360(degrees + 180);

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
    (table) => `${NORTH_WORDS[northOf(table)]} bearing`,
    (leg, table) => bearingOn(leg, northOf(table)),
  ),
  back: chosenBearing(
    "back",
    () => "Back",
    (leg, table) => turned(bearingOn(leg, northOf(table))),
  ),
  other: chosenBearing(
    "other",
    (table) => NORTH_WORDS[otherNorth(table)],
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
  runningDistanceM: number("runningDistanceM", "Distance so far", (leg) => leg.runningDistanceM, 3, length),
  runningTimeS: number(
    "runningTimeS",
    "Time so far",
    (leg) => leg.runningTimeS,
    0,
    (value) => formatDuration(value),
  ),
  crossings: words("crossings", "Crosses", (leg, unit) =>
    leg.crossings
      .filter(({ atM }) => atM >= AT_END_M)
      .map((crossing) => crossingWords(crossing, unit))
      .join("; "),
  ),
  handrails: words("handrails", "Follow", (leg, unit) =>
    leg.handrails
      .slice(0, SHOWN_HANDRAILS)
      .map((handrail) => handrailWords(handrail, unit, leg.distanceM))
      .join("; "),
  ),
  backstop: words("backstop", "Stop", (leg, unit) => (leg.backstop ? backstopWords(leg.backstop, unit) : "")),
  notes: words("notes", "Notes", (leg) => leg.notes.join(" ")),
} as const satisfies Record<string, LegColumn>;
export type LegColumnId = keyof typeof LEG_COLUMNS;

const columns = (...ids: LegColumnId[]): readonly LegColumn[] => ids.map((id) => LEG_COLUMNS[id]);

/** The figures for people, on paper and in a terminal; from and to stand before them. */
export const SHEET_COLUMNS = columns(
  "bearing",
  "back",
  "other",
  "distanceM",
  "paces",
  "climbM",
  "descentM",
  "steepestDeg",
  "timeS",
  "runningDistanceM",
  "runningTimeS",
);
/** What follows a leg's figures in sentences. */
export const AID_COLUMNS = columns("crossings", "handrails", "backstop", "notes");
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
  "distanceM",
  "slopeDistanceM",
  "climbM",
  "descentM",
  "steepestDeg",
  "elevationErrorM",
  "paces",
  "timeS",
  "runningDistanceM",
  "runningTimeS",
  "crossings",
  "handrails",
  "backstop",
  "notes",
);
