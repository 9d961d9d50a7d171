/**
 * The leg table for a spreadsheet: RFC 4180, with header and CRLF line ends, columns named as in the JSON contract.
 * Texts that a spreadsheet would take for a formula get an apostrophe in front (OWASP, CSV Injection); figures,
 * negative ones too, stay figures.
 */
import { CSV_COLUMNS, type LegTable } from "./leg-table.ts";

/** Characters that start a formula in the common spreadsheets. */
const FORMULA = /^[=+\-@\t\r\n]/;
const FIGURE = /^-?\d+(\.\d+)?$/;

function cell(text: string): string {
  const safe = FORMULA.test(text) && !FIGURE.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export function legTableCsv(table: LegTable): string {
  const rows = [
    CSV_COLUMNS.map(({ id }) => id),
    ...table.figures.legs.map((leg) => CSV_COLUMNS.map((column) => cell(column.value(leg, table)))),
  ];
  return rows.map((row) => `${row.join(",")}\r\n`).join("");
}
