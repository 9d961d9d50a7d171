/** Tables of points: latitude and longitude, UTM or MGRS, in whatever dialect a spreadsheet wrote. */
import { Fault } from "../fault.ts";
import { badFeatures } from "../files/feature-file.ts";
import { parsePosition } from "../geodesy/parse-position.ts";
import { csvRows, type Row, sniffSeparator } from "./csv-rows.ts";
import { describeLast, draft, Positions, type ReadOptions, trimmed } from "./exchange.ts";
import type { RawExchange } from "./read-gpx.ts";
import { unguarded } from "./write-csv.ts";

/** Names of columns as people write them: common practice, no source. */
const NAMES = {
  name: ["name", "label", "title", "point", "id"],
  note: ["note", "notes", "description", "desc", "comment"],
  lat: ["lat", "latitude", "y", "lat_deg", "ycoord"],
  lon: ["lon", "lng", "long", "longitude", "x", "lon_deg", "xcoord"],
  height: ["ele", "elevation", "height", "alt", "altitude"],
  reference: ["mgrs", "usng", "utm", "position", "coordinates", "grid reference", "reference"],
  zone: ["zone", "utm zone", "utm_zone"],
  easting: ["easting", "e", "utm_e"],
  northing: ["northing", "n", "utm_n"],
} as const;
type Column = keyof typeof NAMES;

const FIGURE = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/;
const figure = (cell: string): number => {
  const plain = cell.trim().replace("\u2212", "-");
  return FIGURE.test(plain) ? Number(plain.replace(",", ".")) : Number.NaN;
};

/** @throws Fault "bad-features" naming the line */
export function readCsv(text: string, name: string, options: ReadOptions): RawExchange {
  const separator = sniffSeparator(text);
  const rows = csvRows(text, separator, name, options.mostPositions + 1);
  const [first] = rows;
  if (!first) throw badFeatures("The file is empty.", name);
  const report: string[] = [];
  const columns = columnsOf(first) ?? guessColumns(first, name, options, report);
  const body = columnsOf(first) ? rows.slice(1) : rows;
  const points = draft("points");
  const positions = new Positions(options.mostPositions);
  for (const row of body) {
    const where = `${name}, line ${row.line}`;
    const cell = (column: Column): string => row.cells[columns.get(column) ?? -1] ?? "";
    const [lon, lat] = positionOf(cell, columns, where);
    positions.add(points, lon, lat, where, cell("height").trim() !== "");
    describeLast(points, trimmed(unguarded(cell("name"))), unguarded(cell("note")).trim());
  }
  const other = first.cells.length - columns.size;
  if (columnsOf(first) && other > 0) report.push(`Columns that say nothing here were left out: ${other}.`);
  return { title: null, notes: "", drafts: points.positions.length > 0 ? [points] : [], report };
}

function positionOf(
  cell: (column: Column) => string,
  columns: ReadonlyMap<Column, number>,
  where: string,
): readonly [number, number] {
  if (columns.has("lat")) {
    const [lon, lat] = [figure(cell("lon")), figure(cell("lat"))];
    if (!Number.isNaN(lon) && !Number.isNaN(lat)) return [lon, lat];
  }
  const text = columns.has("lat")
    ? `${cell("lat")} ${cell("lon")}`
    : columns.has("reference")
      ? cell("reference")
      : `${cell("zone")} ${cell("easting")} ${cell("northing")}`;
  try {
    return parsePosition(text.slice(0, 200)).lonLat;
  } catch (error) {
    const fault = Fault.from(error);
    if (fault.code === "internal") throw error;
    throw badFeatures(fault.what, where, fault.remedy ?? "Put the cell right.");
  }
}

/** By the header; null when the first row is none. */
function columnsOf({ cells }: Row): ReadonlyMap<Column, number> | null {
  const columns = new Map<Column, number>();
  cells.forEach((cell, i) => {
    const word = unguarded(cell.trim()).toLowerCase();
    for (const [column, names] of Object.entries(NAMES) as [Column, readonly string[]][])
      if (names.includes(word) && !columns.has(column)) columns.set(column, i);
  });
  const both = (a: Column, b: Column): boolean => columns.has(a) && columns.has(b);
  if (both("lat", "lon") || both("easting", "northing") || columns.has("reference")) {
    if (!both("lat", "lon")) for (const one of ["lat", "lon"] as const) columns.delete(one);
    return columns;
  }
  return null;
}

/** Without a header: the first two columns of figures are the position; which is which is said or guessed. */
function guessColumns(
  { cells, line }: Row,
  name: string,
  options: ReadOptions,
  report: string[],
): ReadonlyMap<Column, number> {
  const figures = [...cells.keys()].filter((i) => !Number.isNaN(figure(cells[i] as string)));
  const texts = [...cells.keys()].filter((i) => !figures.includes(i));
  const [a, b] = figures.length > 2 && figure(cells[0] as string) === 1 ? figures.slice(1) : figures;
  if (a === undefined || b === undefined)
    throw badFeatures(
      "No columns of positions were found.",
      `${name}, line ${line}`,
      "Name the columns in the first row: name, lat, lon; or mgrs; or zone, easting, northing.",
    );
  const lonFirst = options.axes ? options.axes === "lon-lat" : Math.abs(figure(cells[a] as string)) > 90;
  if (!options.axes)
    report.push(
      `The columns have no names: the first figure of a row was taken for the ${lonFirst ? "longitude" : "latitude"}. Look at the map whether that is so.`,
    );
  const columns = new Map<Column, number>([
    [lonFirst ? "lon" : "lat", a],
    [lonFirst ? "lat" : "lon", b],
  ]);
  if (texts[0] !== undefined) columns.set("name", texts[0]);
  if (texts[1] !== undefined) columns.set("note", texts[1]);
  return columns;
}
