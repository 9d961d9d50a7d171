import { Fault } from "../../core/fault.ts";
import { decimalYear } from "../../core/geodesy/decimal-year.ts";
import { type Declination, declinationAt } from "../../core/geodesy/declination.ts";
import { formatPosition } from "../../core/geodesy/format-position.ts";
import { type Grid, toGrid } from "../../core/geodesy/grid.ts";
import { MODEL_YEARS } from "../../core/geodesy/magnetic-model.ts";
import { gridMagneticAngle, northRule } from "../../core/geodesy/north-rule.ts";
import {
  type PrintedDeclination,
  printedDeclinationOn,
  type PrintedNorth,
} from "../../core/geodesy/printed-declination.ts";
import { toUtm } from "../../core/geodesy/utm.ts";
import { normalise180 } from "../../core/units/angle.ts";
import { formatAngle, formatEastWest, formatNumber, formatQuantity } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import type { LonLat } from "../../core/units/position.ts";
import { checkDay } from "../../core/walk/walk-rules.ts";
import { namedGrid } from "./named-grid.ts";
import { type PrintedOptions, printedNorth } from "./printed-north.ts";
import { deliver } from "./product.ts";
import { readPosition } from "./read-position.ts";
import { row } from "./rows.ts";

export interface DeclinationOptions extends PrintedOptions {
  readonly date?: string;
  readonly height?: string;
  readonly beyondModel?: true;
  readonly grid?: string;
  readonly format?: "text" | "json";
}

interface Report {
  readonly lonLat: LonLat;
  readonly date: string;
  readonly heightM: number;
  readonly heightGiven: boolean;
  /** Null on a day no model covers, when a printed declination stands in. */
  readonly model: Declination | null;
  readonly grid: { readonly title: string; readonly convergenceDeg: number };
  readonly printed:
    | (PrintedDeclination & {
        readonly asPrinted: PrintedNorth;
        /** Printed minus model, degrees, east positive; null without a model. */
        readonly differenceDeg: number | null;
      })
    | null;
  readonly warnings: readonly string[];
}

/** `declination POSITION`: how magnetic, grid and true north lie at a place on a day. */
export async function declination(position: string, options: DeclinationOptions): Promise<void> {
  const report = await reportOf(position, options);
  if (options.format === "json")
    return await deliver(`${JSON.stringify({ ...report, ...ruling(report) }, null, 2)}\n`, undefined);
  await deliver(asText(report), undefined);
}

async function reportOf(position: string, options: DeclinationOptions): Promise<Report> {
  const { lonLat } = readPosition(position, { from: "any", near: null, grid: null });
  const date = checkDay(options.date ?? new Date().toISOString().slice(0, 10), "--date");
  const heightM = options.height === undefined ? 0 : heightOf(options.height);
  const named = options.grid === undefined ? null : await namedGrid(options.grid);
  const grid = named ? gridNorth(named.at(lonLat), lonLat) : utmNorth(lonLat);
  const caution = named?.caution(lonLat) ?? null;
  const asPrinted = printedNorth(options);
  const printed = asPrinted && printedDeclinationOn(asPrinted, date, grid.convergenceDeg);
  const model = modelOn(lonLat, heightM, date, options.beyondModel === true, printed !== null);
  const differenceDeg = printed && model ? normalise180(printed.deg - model.deg) : null;
  return {
    lonLat,
    date,
    heightM,
    heightGiven: options.height !== undefined,
    model,
    grid,
    printed: printed && asPrinted && { ...printed, asPrinted, differenceDeg },
    warnings: [...warnings(model, date, printed, differenceDeg), ...(caution === null ? [] : [caution])],
  };
}

/** @throws Fault "bad-argument" for what is no height, or one without a unit */
function heightOf(text: string): number {
  const [, sign, rest = ""] = /^\s*([-+−]?)\s*(.*)$/s.exec(text) ?? [];
  const metres = parseLength(rest);
  return sign === "" || sign === "+" ? metres : -metres;
}

function utmNorth(lonLat: LonLat): Report["grid"] {
  const { zone, convergenceDeg } = toUtm(lonLat);
  return { title: zone === 0 ? "UPS" : `UTM zone ${zone}`, convergenceDeg };
}

function gridNorth(grid: Grid, lonLat: LonLat): Report["grid"] {
  return { title: grid.title, convergenceDeg: toGrid(grid, lonLat).convergenceDeg };
}

/** The model's declination; null on a day without a model, when a printed one can stand in for it. */
function modelOn(
  lonLat: LonLat,
  heightM: number,
  date: string,
  beyond: boolean,
  printed: boolean,
): Declination | null {
  const year = decimalYear(date);
  const covered = year >= MODEL_YEARS.from && year < MODEL_YEARS.until;
  if (!covered && !beyond) {
    if (printed) return null;
    throw new Fault(
      "out-of-range",
      `There is no magnetic model for ${Math.floor(year)}: the models here cover the years ${MODEL_YEARS.from} to ${MODEL_YEARS.until - 1}.`,
      null,
      "Choose a date within those years, give the printed declination with --printed, or insist with --beyond-model.",
    );
  }
  return declinationAt(lonLat, heightM, date, beyond);
}

function warnings(
  model: Declination | null,
  date: string,
  printed: PrintedDeclination | null,
  differenceDeg: number | null,
): string[] {
  const found: string[] = [];
  if (model?.zone === "blackout")
    found.push("The needle has next to no pull here: a compass is useless (blackout zone).");
  if (model?.zone === "caution")
    found.push("The needle's pull is weak here: a compass may be unreliable (caution zone).");
  if (model?.beyondModel)
    found.push(
      `No model covers ${date}: ${model.model} was carried on at its yearly change, and nobody knows how far it is off.`,
    );
  if (printed?.old)
    found.push(
      `The map's declination is ${formatNumber(printed.ageYears)} years old: its annual change has changed since.`,
    );
  if (printed && printed.ageYears < 0)
    found.push("The map's declination is of a later year than the walk: it was brought back.");
  // Beyond its years the model's uncertainty is nobody's guess: nothing can be held against it.
  if (model && !model.beyondModel && differenceDeg !== null && Math.abs(differenceDeg) > model.uncertaintyDeg)
    found.push(
      `The map and the model disagree by ${formatAngle(Math.abs(differenceDeg), 1)}, more than the model's ${formatAngle(model.uncertaintyDeg, 1)}: check the figures in the margin.`,
    );
  return found;
}

/** The declination the rules are made of: the model's, and the map's only where there is none. */
function ruling({ model, printed, grid }: Report): {
  readonly from: "model" | "printed";
  readonly declinationDeg: number;
  readonly gridMagneticDeg: number;
  readonly rules: readonly Rule[];
} {
  const deg = (model ?? printed)?.deg ?? Number.NaN;
  const gridMagneticDeg = normalise180(gridMagneticAngle(deg, grid.convergenceDeg));
  return {
    from: model ? "model" : "printed",
    declinationDeg: deg,
    gridMagneticDeg,
    rules: [
      { mapNorth: "true", ...northRule(deg, "true", 1) },
      { mapNorth: "grid", ...northRule(gridMagneticDeg, "grid", 1) },
    ],
  };
}
type Rule = ReturnType<typeof northRule> & { readonly mapNorth: "true" | "grid" };

/** An annual change: minutes, as maps print it. */
const yearly = (deg: number): string => {
  const minutes = formatNumber(Math.abs(deg) * 60, 1);
  return Number(minutes) === 0 ? "not changing" : `changing ${minutes}′ ${deg > 0 ? "E" : "W"} a year`;
};

function asText(report: Report): string {
  const { lonLat, date, heightM, heightGiven, model, grid, printed, warnings: warned } = report;
  const { from, gridMagneticDeg, rules } = ruling(report);
  const mark = model?.beyondModel ? ", beyond the model's years" : "";
  const lines = [
    row("Place", formatPosition(lonLat, "dd")),
    row("Day", date),
    row("Height", heightGiven ? `${formatQuantity(heightM, "m")} above the sea` : "at the sea (no --height)"),
    row(
      "Declination",
      model
        ? `${formatEastWest(model.deg, 2)} ${model.beyondModel ? "± unknown" : `± ${formatAngle(model.uncertaintyDeg, 2)}`} (${model.model}${mark}), ${yearly(model.annualChangeDeg)}`
        : "no model covers this day",
    ),
    ...(printed ? printedLines(printed, date) : []),
    row("Convergence", `${formatEastWest(grid.convergenceDeg, 2)} (${grid.title} north from true north)`),
    row(
      "Grid–magnetic angle",
      `${formatEastWest(gridMagneticDeg, 2)}${from === "printed" ? " (by the map)" : mark && ` (${mark.slice(2)})`}`,
    ),
    ...rules.map(({ mapNorth, toMagnetic, fromMagnetic, reason }) =>
      row(`From ${mapNorth} north`, `${toMagnetic}; ${fromMagnetic} (${reason}${mark})`),
    ),
    ...warned.map((warning) => row("Warning", warning)),
  ];
  return lines.map((line) => `${line}\n`).join("");
}

function printedLines(printed: NonNullable<Report["printed"]>, date: string): string[] {
  const { asPrinted, deg, differenceDeg } = printed;
  const what = asPrinted.of === "gridMagnetic" ? "grid–magnetic angle" : "declination";
  return [
    row(
      "On the map",
      `${what} ${formatEastWest(asPrinted.valueDeg, 2)} in ${asPrinted.year}, ${yearly(asPrinted.annualChangeDeg)}`,
    ),
    row(
      "Brought to date",
      `declination ${formatEastWest(deg, 2)} on ${date}, ${formatNumber(Math.abs(printed.ageYears), 1)} years ${printed.ageYears < 0 ? "earlier" : "later"}`,
    ),
    ...(differenceDeg === null
      ? []
      : [row("Difference", `the map's lies ${formatEastWest(differenceDeg, 2)} of the model's`)]),
  ];
}
