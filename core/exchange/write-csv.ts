/** A walk's points as a table of text. Source: RFC 4180; formulas kept from running as OWASP, CSV Injection, advises. */
import { Fault } from "../fault.ts";
import type { Walk } from "../walk/walk.ts";
import { writtenPoints } from "./clean-text.ts";
import { type ExchangeParts, heightText } from "./parts.ts";

export interface Dialect {
  readonly separator: "," | ";" | "\t";
  readonly decimal: "." | ",";
  readonly lineEnd: "\r\n" | "\n";
  /** A byte-order mark in front, by which some spreadsheets know UTF-8. */
  readonly bom: boolean;
  /** Names of the columns. */
  readonly headers: {
    readonly name: string;
    readonly lat: string;
    readonly lon: string;
    readonly note: string;
    readonly height: string;
  };
}

export const PLAIN_DIALECT: Dialect = {
  separator: ",",
  decimal: ".",
  lineEnd: "\r\n",
  bom: false,
  headers: { name: "name", lat: "lat", lon: "lon", note: "note", height: "ele" },
};

/** What a spreadsheet takes for a formula, after white space too; apostrophes before it count, so that taking one away again loses nothing. */
const FORMULA = /^[\s']*[=+\-@\t\r\n]/;
const GUARDED = /^'[\s']*[=+\-@\t\r\n]/;

/** A text that no spreadsheet runs: an apostrophe goes in front of what would be a formula. */
export const guarded = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);
/** The text again as it was before `guarded`. */
export const unguarded = (text: string): string => (GUARDED.test(text) ? text.slice(1) : text);

/**
 * Rows of name, latitude, longitude, height where heights go along, and note, under a header.
 * @throws Fault "bad-argument" when columns and decimals would be told apart by the same sign
 */
export function writeCsv(walk: Walk, { heightsM, notes }: ExchangeParts, dialect: Dialect): string {
  const { separator, decimal, lineEnd, bom, headers } = dialect;
  if ((separator as string) === decimal)
    throw new Fault(
      "bad-argument",
      "Columns and decimals cannot both be set apart by a comma.",
      null,
      "Choose a semicolon or a tab between columns.",
    );
  const quoted = (text: string): string =>
    /["\r\n]/.test(text) || text.includes(separator) ? `"${text.replaceAll('"', '""')}"` : text;
  const cell = (text: string): string => quoted(guarded(text));
  const figure = (text: string): string => text.replace(".", decimal);
  const rows = [
    [headers.name, headers.lat, headers.lon, ...(heightsM ? [headers.height] : []), headers.note].map(cell),
    ...writtenPoints(walk).map(({ label, note, lon, lat }, i) => [
      cell(label),
      figure(lat),
      figure(lon),
      ...(heightsM ? [figure(heightText(heightsM[i]))] : []),
      cell(notes ? note : ""),
    ]),
  ];
  return `${bom ? "\ufeff" : ""}${rows.map((row) => row.join(separator) + lineEnd).join("")}`;
}
