/** Tables of points: latitude and longitude, UTM, MGRS or a grid, in whatever dialect a spreadsheet wrote. */
import { Fault } from "../fault.ts";
import { badFeatures } from "../files/feature-file.ts";
import type { LonLat } from "../units/position.ts";
import {
  chosenColumns,
  type Column,
  type Columns,
  figureIn,
  guessedColumns,
  looksLikeHeader,
  namedColumns,
  type TableLook,
} from "./csv-columns.ts";
import { csvRows, type Row, sniffSeparator } from "./csv-rows.ts";
import { describeLast, draft, Positions, type RawExchange, type ReadOptions, trimmed } from "./exchange.ts";
import { readLines } from "./read-lines.ts";
import { type ReferenceReader, referenceReader } from "./read-reference.ts";
import { unguarded } from "./write-csv.ts";

const SAMPLE_ROWS = 6;
/** Read in a second or two; figures are quicker. No source. */
const MOST_REFERENCES = 100_000;

interface Taken {
  readonly rows: readonly Row[];
  readonly look: TableLook;
  readonly report: readonly string[];
}

/** Rows and columns; the columns are empty where none were found. */
function take(text: string, name: string, options: ReadOptions): Taken {
  const wish = options.table;
  const separator = wish?.separator ?? sniffSeparator(text);
  const rows = csvRows(text, separator, name, options.mostPositions + 1);
  const [first] = rows;
  if (!first) throw badFeatures("The file is empty.", name);
  const report: string[] = [];
  const named = wish?.header === false ? null : namedColumns(first);
  const header = wish?.header ?? (named !== null || looksLikeHeader(first, rows[1]));
  const probe = header ? (rows[1] ?? first) : first;
  const columns =
    (wish?.columns && chosenColumns(wish.columns, name)) ??
    named ??
    guessedColumns(
      probe,
      {
        axes: options.axes,
        decimal: wish?.decimal ?? null,
        grid: options.frame?.figures === "grid",
      },
      report,
    ) ??
    {};
  return {
    rows,
    look: {
      separator,
      header,
      columns,
      sample: rows.slice(0, SAMPLE_ROWS).map(({ cells }) => cells.slice(0, MOST_SHOWN)),
      rows: rows.length,
      width: Math.min(MOST_SHOWN, Math.max(...rows.slice(0, 100).map(({ cells }) => cells.length))),
    },
    report,
  };
}

/** Columns a person is shown. */
const MOST_SHOWN = 50;

/**
 * How a table would be taken, whether or not its positions can be read; so that a person can put it right.
 * @throws Fault "bad-features" for a quote that does not close, or columns chosen that give no position
 */
export const lookAtTable = (text: string, name: string, options: ReadOptions): TableLook =>
  take(text, name, options).look;

/** @throws Fault "bad-features" naming the line */
export function readCsv(text: string, name: string, options: ReadOptions): RawExchange {
  const { rows, look, report } = take(text, name, options);
  const { columns, header } = look;
  const [first] = rows as [Row, ...Row[]];
  if (Object.keys(columns).length === 0) {
    const list = options.table ? null : readLines(text, name, options);
    if (list) return list;
    throw badFeatures(
      "No columns of positions were found.",
      `${name}, line ${first.line}`,
      "Name the columns in the first row: name, lat, lon; or mgrs; or zone, easting, northing.",
    );
  }
  const points = draft("points");
  const positions = new Positions(options);
  const references = referenceReader(options);
  let parsed = 0;
  for (const row of header ? rows.slice(1) : rows) {
    const where = `${name}, line ${row.line}`;
    const cell = (column: Column): string => row.cells[columns[column] ?? -1] ?? "";
    const figures = figuresOf(cell, columns, options);
    if (!figures && ++parsed > MOST_REFERENCES)
      throw badFeatures(
        `The table has more than ${MOST_REFERENCES} references.`,
        where,
        "Save a shorter part of it.",
      );
    const [x, y] = figures ?? parsedIn(cell, columns, references, where);
    positions.add(points, x, y, where, cell("height").trim() !== "");
    describeLast(points, trimmed(unguarded(cell("name"))), unguarded(cell("note")).trim());
  }
  if (parsed > 0 && parsed < points.positions.length && options.frame)
    throw badFeatures(
      "Some positions are figures, and some are references that say themselves where they lie.",
      name,
      "Bring them in from two files.",
    );
  const used = new Set(Object.values(columns));
  const left = first.cells.flatMap((cell, i) => (used.has(i) ? [] : [cell.trim() || `column ${i + 1}`]));
  const told = [...report, ...references.told];
  if (header && left.length > 0)
    told.push(
      `Columns that say nothing here were left out: ${left.length} (${left
        .slice(0, 10)
        .map((word) => `“${word.slice(0, 40)}”`)
        .join(", ")}${left.length > 10 ? " …" : ""}).`,
    );
  return {
    title: null,
    notes: "",
    drafts: points.positions.length > 0 ? [points] : [],
    report: told,
    odd: positions.odd,
    placed: parsed > 0,
    table: look,
  };
}

/** Plain figures; null where the cells hold something else to be read. */
function figuresOf(
  cell: (column: Column) => string,
  columns: Columns,
  { table, frame }: ReadOptions,
): readonly [number, number] | null {
  const [east, north] =
    columns.lat === undefined ? (["easting", "northing"] as const) : (["lon", "lat"] as const);
  if (columns[east] === undefined || columns[north] === undefined) return null;
  // Eastings of UTM say little without their zone.
  if (east === "easting" && frame?.figures !== "grid") return null;
  const [x, y] = [east, north].map((one) => figureIn(cell(one), table?.decimal ?? null)) as [number, number];
  // With the other decimal sign they are figures still, and not what the person says they are.
  const other = [east, north].every((one) => !Number.isNaN(figureIn(cell(one), null)));
  return other || !(Number.isNaN(x) || Number.isNaN(y)) ? [x, y] : null;
}

function parsedIn(
  cell: (column: Column) => string,
  columns: Columns,
  references: ReferenceReader,
  where: string,
): LonLat {
  const text =
    columns.lat !== undefined
      ? `${cell("lat")} ${cell("lon")}`
      : columns.reference !== undefined
        ? cell("reference")
        : `${cell("zone")} ${cell("easting")} ${cell("northing")}`;
  try {
    return references.read(text.slice(0, 200));
  } catch (error) {
    const fault = Fault.from(error);
    if (fault.code === "internal") throw error;
    throw badFeatures(fault.what, where, fault.remedy ?? "Put the cell right.");
  }
}
