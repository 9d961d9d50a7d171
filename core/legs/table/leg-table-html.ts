/**
 * The leg table for paper: one self-contained HTML document in black on white, laid out for the page by its own CSS.
 * Nothing is fetched: fonts come in as data URLs. Every text is escaped.
 */
import { formatDuration, formatHeight, formatLength, formatNumber } from "../../units/format.ts";
import { CAUTIONS, INVENTED } from "../cautions.ts";
import type { LegFigures } from "../figures.ts";
import { AID_COLUMNS, dialColumn, sheetColumns, type LegTable } from "./leg-table.ts";
import { unitOf } from "../how/how-about.ts";
import { TABLE_STYLE } from "./leg-table-style.ts";
import {
  declinationStatement,
  hoursStatements,
  mapStatement,
  methodStatements,
  northStatement,
} from "./table-statements.ts";

export interface TableFont {
  readonly weight: 400 | 700;
  /** A data: URL of a woff2 file. */
  readonly dataUrl: string;
}

export interface TablePage {
  readonly paper?: "A4" | "letter";
  /** The face of the document; the printer's own sans serif when none is given. */
  readonly fonts?: readonly TableFont[];
}

const ESCAPES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};
export const escapeHtml = (text: string): string => text.replace(/[&<>"']/g, (c) => ESCAPES[c] as string);
const e = escapeHtml;
/** A figure that may break before its unit: it does so only where the page is too narrow for the whole row otherwise. */
const cell = (figure: string): string => e(figure.replaceAll("\u00a0", " "));

/**
 * The whole document. Print it with the page size its CSS asks for.
 * Long walks run over several pages: the header, and that the map is invented, is repeated and no leg is split.
 */
export function legTableHtml(table: LegTable, { paper = "A4", fonts = [] }: TablePage = {}): string {
  const { legs, notes } = table.figures;
  const columns = sheetColumns(table);
  const span = columns.length + 1;
  const invented = table.map?.invented === true;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>${e(table.title)}</title>
<style>
${fonts.map(fontFace).join("\n")}
@page { size: ${paper} portrait; margin: 14mm 12mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font: 9pt sans-serif; } }
${TABLE_STYLE}
</style>
</head>
<body>
<header>
<h1>${e(table.title)}</h1>
<p class="when">${e(table.date)}</p>
${invented && legs.length === 0 ? `<p class="invented">${e(INVENTED)}</p>` : ""}
<p>${e(mapStatement(table))}</p>
<p>${e(declinationStatement(table))} ${e(northStatement(table))}</p>
${hoursStatements(table)
  .map((statement) => `<p>${e(statement)}</p>`)
  .join("\n")}
</header>
${
  legs.length === 0
    ? "<p>No legs yet: a walk needs two points.</p>"
    : `<table>
<thead>
${invented ? `<tr><th colspan="${span}" class="left"><div class="invented">${e(INVENTED)}</div></th></tr>` : ""}
<tr><th class="left">Leg</th>${columns.map(({ heading, id }) => `<th class="${id}">${e(heading(table)).replace(" ", "<br>")}</th>`).join("")}</tr>
</thead>
${legs.map((leg) => legRows(leg, table, span)).join("\n")}
${totalRow(table)}
</table>`
}
${notes.map((note) => `<p>${e(note)}</p>`).join("\n")}
${
  table.notes
    ? `<section class="own">${table.notes
        .split(/\r?\n/)
        .map((line) => `<p>${e(line)}</p>`)
        .join("")}</section>`
    : ""
}
<footer>
<p>${methodStatements(table).map(e).join(" ")}</p>
<ul>${CAUTIONS.map((caution) => `<li>${e(caution)}</li>`).join("")}</ul>
</footer>
</body>
</html>
`;
}

function fontFace({ weight, dataUrl }: TableFont): string {
  // Anything but a data URL would let the document reach out, and a quote would end the string.
  if (!/^data:[\w/+.-]+;base64,[A-Za-z0-9+/=]*$/.test(dataUrl)) return "";
  return `@font-face { font-family: "Table"; font-weight: ${weight}; src: url("${dataUrl}") format("woff2"); }`;
}

const BEARINGS: ReadonlySet<string> = new Set(["bearing", "back", "other"]);

function legRows(leg: LegFigures, table: LegTable, span: number): string {
  const dial = dialColumn(table);
  const figures = sheetColumns(table)
    .map((column) => {
      const text = column.text(leg, table);
      // A bearing torn from its "E" or "mils" would be misread.
      const whole = BEARINGS.has(column.id) ? e(text) : cell(text);
      return `<td class="${column.id}${column.id === dial ? " dial" : ""}">${whole}</td>`;
    })
    .join("");
  const aids = AID_COLUMNS.flatMap((column) => {
    const text = column.text(leg, table);
    return text === "" ? [] : [`<div class="aid"><b>${e(column.heading(table))}</b> ${e(text)}</div>`];
  });
  if (table.describe && leg.onTheWay.length > 0)
    aids.unshift(`<ol class="way">${leg.onTheWay.map(({ words }) => `<li>${e(words)}</li>`).join("")}</ol>`);
  // Long names get the whole width: in the first column they would break into a tower of syllables.
  const long = leg.from.length + leg.to.length > 12;
  const ends = `<span class="ends">${e(leg.from)} → ${e(leg.to)}</span>`;
  return `<tbody>
${long ? `<tr><td colspan="${span}" class="names">${ends}</td></tr>` : ""}
<tr><th scope="row" class="left">${formatNumber(leg.n)}${long ? "" : ` ${ends}`}</th>${figures}</tr>
${aids.length === 0 ? "" : `<tr><td colspan="${span}" class="aids">${aids.join("")}</td></tr>`}
</tbody>`;
}

/** One cell per column, so that each sum stands under its figures. */
function totalRow(table: LegTable): string {
  const { totals } = table.figures;
  const unit = unitOf(table);
  const sums: Partial<Record<string, string>> = {
    distanceM: formatLength(totals.distanceM, unit),
    paces: formatNumber(totals.paces),
    climbM: formatHeight(totals.climbM, unit),
    descentM: formatHeight(totals.descentM, unit),
    timeS: formatDuration(totals.timeS),
  };
  const columns = sheetColumns(table);
  const cells = columns.map(({ id }) => `<td class="${id}">${cell(sums[id] ?? "")}</td>`).join("");
  const slope =
    totals.slopeDistanceM === null
      ? ""
      : `<tr><td colspan="${columns.length + 1}" class="aids"><div>${e(formatLength(totals.slopeDistanceM, unit))} over the slope</div></td></tr>`;
  return `<tbody class="total"><tr><th class="left" scope="row">Total</th>${cells}</tr>${slope}</tbody>`;
}
