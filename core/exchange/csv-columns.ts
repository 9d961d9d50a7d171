/** Which columns of a table mean what: by the names in its header, by what a person says, or guessed. */
import { badFeatures } from "../files/feature-file.ts";
import type { Row, Separator } from "./csv-rows.ts";
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
export type Column = keyof typeof NAMES;
export const COLUMNS = Object.keys(NAMES) as Column[];
export type Columns = Partial<Readonly<Record<Column, number>>>;

/** How a person says a table is to be taken; null leaves it to the table. */
export interface TableWish {
  readonly separator: Separator | null;
  /** Null takes either for a decimal sign. */
  readonly decimal: "." | "," | null;
  readonly header: boolean | null;
  /** Which column, counted from 0, holds what. */
  readonly columns: Columns | null;
}

/** How a table was taken. */
export interface TableLook {
  readonly separator: Separator;
  readonly header: boolean;
  readonly columns: Columns;
  /** The first rows, the header among them. */
  readonly sample: readonly (readonly string[])[];
  /** All rows, the header among them. */
  readonly rows: number;
  readonly width: number;
}

const FIGURE = { ".": /^[+-]?(\d+\.?\d*|\.\d+)$/, ",": /^[+-]?(\d+,?\d*|,\d+)$/ } as const;
const EITHER = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/;

/** The figure in a cell; NaN where it is none. */
export function figureIn(cell: string, decimal: "." | "," | null): number {
  const plain = cell.trim().replace("\u2212", "-");
  return (decimal ? FIGURE[decimal] : EITHER).test(plain) ? Number(plain.replace(",", ".")) : Number.NaN;
}

const hasPosition = ({ lat, lon, easting, northing, reference }: Columns): boolean =>
  (lat !== undefined && lon !== undefined) ||
  (easting !== undefined && northing !== undefined) ||
  reference !== undefined;

/** By the header; null when the first row is none. */
export function namedColumns({ cells }: Row): Columns | null {
  const columns: Partial<Record<Column, number>> = {};
  cells.forEach((cell, i) => {
    const word = unguarded(cell.trim()).toLowerCase();
    for (const column of COLUMNS)
      if ((NAMES[column] as readonly string[]).includes(word)) columns[column] ??= i;
  });
  if (!hasPosition(columns)) return null;
  if (columns.lat === undefined || columns.lon === undefined) {
    delete columns.lat;
    delete columns.lon;
  }
  return columns;
}

/** Whether the first row names columns, in whatever language: it has no figure, and the second has two. */
export const looksLikeHeader = (first: Row, second: Row | undefined): boolean =>
  first.cells.every((cell) => Number.isNaN(figureIn(cell, null))) &&
  (second?.cells.filter((cell) => !Number.isNaN(figureIn(cell, null))).length ?? 0) > 1;

/** Without names that are known: the first two columns of figures are the position; null when there are no two. */
export function guessedColumns(
  { cells }: Row,
  { axes, decimal, grid }: Guessing,
  report: string[],
): Columns | null {
  const figure = (i: number): number => figureIn(cells[i] as string, decimal);
  const figures = [...cells.keys()].filter((i) => !Number.isNaN(figure(i)));
  const [name, note] = [...cells.keys()].filter((i) => !figures.includes(i));
  // The first row of a numbered list.
  const [a, b, height] =
    figures.length > 2 && figure(figures[0] as number) === 1 ? figures.slice(1) : figures;
  if (a === undefined || b === undefined) return null;
  const texts = {
    ...(name === undefined ? {} : { name }),
    ...(note === undefined ? {} : { note }),
    ...(height === undefined ? {} : { height }),
  };
  const eastFirst = axes ? axes === "lon-lat" : grid || Math.abs(figure(a)) > 90;
  const [first, second] = grid
    ? (["easting", "northing"] as const)
    : eastFirst
      ? (["longitude", "latitude"] as const)
      : (["latitude", "longitude"] as const);
  if (!axes)
    report.push(
      `The columns have no names that are known here: the first figure of a row was taken for the ${first}, the second for the ${second}. Look at the map whether that is so.`,
    );
  const [x, y] = eastFirst ? [a, b] : [b, a];
  return grid ? { easting: x, northing: y, ...texts } : { lon: x, lat: y, ...texts };
}

export interface Guessing {
  readonly axes: "lat-lon" | "lon-lat" | null;
  readonly decimal: "." | "," | null;
  /** The figures are those of a grid. */
  readonly grid: boolean;
}

/** @throws Fault "bad-features" when nothing chosen gives a position */
export function chosenColumns(columns: Columns, where: string): Columns {
  if (hasPosition(columns)) return columns;
  throw badFeatures(
    "The columns chosen give no position.",
    where,
    "Choose latitude and longitude, easting and northing, or a reference.",
  );
}
