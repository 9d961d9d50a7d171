/** Which columns a printed leg table may have, and the empty ones to write in on the way. */
import { Fault } from "../../fault.ts";
import {
  AID_COLUMNS,
  LEG_COLUMNS,
  type LegColumn,
  type LegColumnId,
  type LegTable,
  sheetColumns,
} from "../../legs/table/leg-table.ts";

/** Empty boxes: what is filled in on the ground. Widths in millimetres at 10 pt. */
export const BLANKS = [
  { id: "actualTime", heading: "Actual time", widthMm: 17 },
  { id: "actualCount", heading: "Actual count", widthMm: 17 },
  { id: "blank", heading: "Remarks", widthMm: 24 },
] as const;
export type BlankId = (typeof BLANKS)[number]["id"];

/** Number and ends of a leg always stand in front. */
const ALWAYS: ReadonlySet<string> = new Set(["n", "from", "to"]);

/** Ids a person may choose from, in the order they are offered. */
export const PRINTED_COLUMNS: readonly LegColumnId[] = (Object.keys(LEG_COLUMNS) as LegColumnId[]).filter(
  (id) => !ALWAYS.has(id),
);

export interface PrintColumn {
  readonly id: string;
  readonly heading: string;
  readonly align: "left" | "right";
  /** "figure" stands in a row; "words" are sentences; "blank" is an empty box. */
  readonly kind: "figure" | "words" | "blank";
  /** Least width, millimetres at 10 pt. */
  readonly leastMm: number;
  readonly column: LegColumn | null;
}

const WORDS: ReadonlySet<string> = new Set(
  Object.values(LEG_COLUMNS)
    .filter(({ align, id }) => align === "left" && !ALWAYS.has(id))
    .map(({ id }) => id),
);

/**
 * The columns in the order asked for, blanks behind them.
 * @param columns ids; null takes the usual
 * @throws Fault "bad-argument" for an id that is none
 */
export function printColumns(
  table: LegTable,
  columns: readonly string[] | null,
  blanks: readonly string[],
): PrintColumn[] {
  const usual = (): readonly string[] => [...sheetColumns(table), ...AID_COLUMNS].map(({ id }) => id);
  const chosen = [...new Set(columns ?? usual())].filter((id) => !ALWAYS.has(id));
  return [
    ...chosen.map((id): PrintColumn => {
      if (!Object.hasOwn(LEG_COLUMNS, id)) throw noColumn(id, PRINTED_COLUMNS);
      const column: LegColumn = LEG_COLUMNS[id as LegColumnId];
      const kind = WORDS.has(id) ? "words" : "figure";
      return { id, heading: column.heading(table), align: column.align, kind, leastMm: 0, column };
    }),
    ...[...new Set(blanks)].map((id): PrintColumn => {
      const blank = BLANKS.find((one) => one.id === id);
      if (!blank)
        throw noColumn(
          id,
          BLANKS.map((one) => one.id),
        );
      return { ...blank, align: "left", kind: "blank", leastMm: blank.widthMm, column: null };
    }),
  ];
}

const noColumn = (id: string, ids: readonly string[]): Fault =>
  new Fault("bad-argument", `The leg table has no column “${id}”.`, null, `Choose from ${ids.join(", ")}.`);
