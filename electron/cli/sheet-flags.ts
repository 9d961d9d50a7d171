/** Columns and blanks of a printed leg table, as the command line names them. */
import { Fault } from "../../core/fault.ts";
import { LEG_COLUMNS } from "../../core/legs/table/leg-table.ts";
import { ASKED_COLUMNS } from "../../core/sheet/tables/handout.ts";
import { type BlankId, BLANKS, PRINTED_COLUMNS } from "../../core/sheet/tables/table-columns.ts";

/** @returns null for the usual columns. @throws Fault "bad-argument" for a column there is not */
export function columnsOf(text: string | undefined): readonly string[] | null {
  return text === undefined
    ? null
    : listed(text, "--columns", "column", (id) => Object.hasOwn(LEG_COLUMNS, id), PRINTED_COLUMNS);
}

/** @throws Fault "bad-argument" for a box there is not */
export function blanksOf(text: string | undefined): readonly BlankId[] {
  const ids = BLANKS.map(({ id }) => id);
  return text === undefined
    ? []
    : (listed(text, "--blank", "box to write in", (id) => ids.includes(id as BlankId), ids) as BlankId[]);
}

/** @returns null for the usual figures. @throws Fault "bad-argument" for one no handout asks for */
export function askedOf(text: string | undefined): readonly string[] | null {
  const ids: readonly string[] = ASKED_COLUMNS;
  return text === undefined
    ? null
    : listed(text, "--ask", "figure to work out", (id) => ids.includes(id), ids);
}

function listed(
  text: string,
  flag: string,
  what: string,
  isOne: (id: string) => boolean,
  ids: readonly string[],
): string[] {
  const given = text
    .split(",")
    .map((id) => id.trim())
    .filter((id) => id !== "");
  const wrong = given.find((id) => !isOne(id));
  if (wrong !== undefined)
    throw new Fault(
      "bad-argument",
      `There is no ${what} called “${wrong}”.`,
      flag,
      `Choose from ${ids.join(", ")}.`,
    );
  if (given.length === 0)
    throw new Fault("bad-argument", `No ${what} is named.`, flag, `Choose from ${ids.join(", ")}.`);
  return given;
}
