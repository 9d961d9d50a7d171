/** The leg table for a terminal: aligned plain text. */
import { CAUTIONS, INVENTED } from "../cautions.ts";
import type { LegFigures } from "../figures.ts";
import { AID_COLUMNS, sheetColumns, type LegTable } from "./leg-table.ts";
import { unitOf } from "../how/how-about.ts";
import {
  declinationStatement,
  hoursStatements,
  mapStatement,
  methodStatements,
  northStatement,
} from "./table-statements.ts";
import { formatDuration, formatHeight, formatLength, formatNumber } from "../../units/format.ts";

/** Characters a terminal shows, combining marks not counted. */
const width = (text: string): number => Array.from(text.normalize("NFC").replace(/\p{M}/gu, "")).length;
const pad = (text: string, to: number, align: "left" | "right"): string => {
  const room = " ".repeat(Math.max(0, to - width(text)));
  return align === "right" ? room + text : text + room;
};
/** Control characters in a name could move the cursor or colour the terminal. */
const plain = (text: string): string => text.replace(/\p{Cc}+/gu, " ").replace(/[\u00a0\u202f]/g, " ");

/** @returns lines ended by \n, no longer than the figures need; aids and notes stand indented under each leg */
export function legTableText(table: LegTable): string {
  const { legs, totals, notes } = table.figures;
  const columns = sheetColumns(table);
  const header = ["Leg", ...columns.map(({ heading }) => heading(table))];
  const rows = legs.map((leg) =>
    [`${leg.n}  ${leg.from} → ${leg.to}`, ...columns.map((column) => column.text(leg, table))].map(plain),
  );
  const widths = header.map((heading, i) =>
    Math.max(width(heading), ...rows.map((row) => width(row[i] as string))),
  );
  const aligned = (cells: readonly string[]): string =>
    cells
      .map((text, i) => pad(text, widths[i] as number, i === 0 ? "left" : "right"))
      .join("  ")
      .trimEnd();

  const unit = unitOf(table);
  const sums = [
    formatLength(totals.distanceM, unit),
    `${formatLength(totals.slopeDistanceM, unit)} over the slope`,
    `climb ${formatHeight(totals.climbM, unit)}`,
    `descent ${formatHeight(totals.descentM, unit)}`,
    `${formatNumber(totals.paces)} paces`,
    formatDuration(totals.timeS),
  ];
  const lines = [
    table.title,
    table.date,
    ...(table.map?.invented ? [INVENTED] : []),
    mapStatement(table),
    declinationStatement(table),
    northStatement(table),
    ...hoursStatements(table),
    "",
    ...(legs.length === 0
      ? ["No legs yet: a walk needs two points."]
      : [aligned(header), "-".repeat(widths.reduce((sum, w) => sum + w + 2, -2))]),
    ...legs.flatMap((leg, i) => [aligned(rows[i] as string[]), ...aidLines(leg, table)]),
    ...(legs.length === 0 ? [] : ["", `Total: ${sums.join(", ")}`]),
    ...notes,
    "",
    ...(table.notes ? [...table.notes.split(/\r?\n/), ""] : []),
    ...methodStatements(table),
    "",
    ...CAUTIONS,
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function aidLines(leg: LegFigures, table: LegTable): string[] {
  const aids = AID_COLUMNS.flatMap((column) => {
    const text = column.text(leg, table);
    return text === "" ? [] : [`     ${pad(`${column.heading(table)}:`, 9, "left")}${text}`];
  });
  if (!table.describe) return aids;
  return [...leg.onTheWay.map(({ words }, i) => `     ${pad(`${i + 1}.`, 4, "left")}${words}`), ...aids];
}
