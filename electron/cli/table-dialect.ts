/** How a table to be read is said to be written: the words of `import --dialect`, the same as those of `export`. */
import { type Column, COLUMNS, type Columns, type TableWish } from "../../core/exchange/csv-columns.ts";
import { Fault } from "../../core/fault.ts";

const WORDS: Readonly<Record<string, Partial<TableWish>>> = {
  comma: { separator: "," },
  semicolon: { separator: ";" },
  tab: { separator: "\t" },
  "decimal-point": { decimal: "." },
  "decimal-comma": { decimal: "," },
  header: { header: true },
  "no-header": { header: false },
};

/** @throws Fault "bad-argument" for a word that is none */
export function tableWish(words: readonly string[] | undefined): TableWish | null {
  if (!words) return null;
  let wish: TableWish = { separator: null, decimal: null, header: null, columns: null };
  for (const word of words) {
    const known = WORDS[word];
    const list = /^columns=(.+)$/.exec(word)?.[1];
    if (known) wish = { ...wish, ...known };
    else if (list !== undefined) wish = { ...wish, columns: columnsOf(list) };
    else
      throw new Fault(
        "bad-argument",
        `“${word}” is no word of a dialect.`,
        "--dialect",
        `Write ${Object.keys(WORDS).join(", ")}, or columns= and the columns in their order.`,
      );
  }
  return wish;
}

/** "name,-,lat,lon": what the columns are in their order, a hyphen for one that says nothing. */
function columnsOf(list: string): Columns {
  const columns: Partial<Record<Column, number>> = {};
  for (const [i, word] of list.split(",").entries()) {
    const column = COLUMNS.find((one) => one === word.trim());
    if (column) columns[column] = i;
    else if (word.trim() !== "-")
      throw new Fault(
        "bad-argument",
        `“${word}” is no kind of column.`,
        "--dialect",
        `Write ${COLUMNS.join(", ")}, or - for a column that says nothing.`,
      );
  }
  return columns;
}
