/** Rows of separated text, quoted as in RFC 4180, and the dialect they seem to be in. */
import { badFeatures } from "../files/feature-file.ts";

export interface Row {
  /** Counted from 1, of the row's first character. */
  readonly line: number;
  readonly cells: readonly string[];
}

export type Separator = "," | ";" | "\t";

/** Columns beyond this many are no table of points. No source. */
const MOST_COLUMNS = 1_000;

/** The separator that stands most often in the first line outside quotes; a comma when none does. */
export function sniffSeparator(text: string): Separator {
  const counts = new Map<string, number>([
    ["\t", 0],
    [";", 0],
    [",", 0],
  ]);
  let quoted = false;
  for (const c of text.slice(0, 10_000)) {
    if (c === '"') quoted = !quoted;
    else if (!quoted && (c === "\n" || c === "\r")) break;
    else if (!quoted && counts.has(c)) counts.set(c, (counts.get(c) as number) + 1);
  }
  // A tab or semicolon is no decimal sign: where there is one, commas are.
  for (const sign of ["\t", ";"] as const) if ((counts.get(sign) as number) > 0) return sign;
  return ",";
}

/**
 * @param mostRows more are refused
 * @throws Fault "bad-features" naming the line of a quote that does not close
 */
export function csvRows(text: string, separator: string, name: string, mostRows: number): Row[] {
  const rows: Row[] = [];
  let at = 0;
  let line = 1;
  while (at < text.length) {
    const start = line;
    const cells: string[] = [];
    for (let more = true; more;) {
      let cell = "";
      if (text[at] === '"') {
        const from = at + 1;
        let end = text.indexOf('"', from);
        while (end >= 0 && text[end + 1] === '"') end = text.indexOf('"', end + 2);
        if (end < 0) throw badFeatures("A quote does not close.", `${name}, line ${start}`);
        cell = text.slice(from, end).replaceAll('""', '"');
        line += cell.split(/\r\n|\r|\n/).length - 1;
        at = end + 1;
      }
      const from = at;
      while (at < text.length && text[at] !== separator && text[at] !== "\n" && text[at] !== "\r") at++;
      cells.push(cell + text.slice(from, at));
      if (cells.length > MOST_COLUMNS)
        throw badFeatures(`A row has more than ${MOST_COLUMNS} columns.`, `${name}, line ${start}`);
      more = text[at] === separator;
      if (more) at++;
    }
    if (text[at] === "\r" && text[at + 1] === "\n") at++;
    at++;
    line++;
    if (cells.some((cell) => cell.trim() !== "")) rows.push({ line: start, cells });
    if (rows.length > mostRows)
      throw badFeatures(`The file has more than ${mostRows} rows.`, name, "Save a shorter part of it.");
  }
  return rows;
}
