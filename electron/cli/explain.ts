/** How the figures of a leg table were worked out, after the table itself. */
import { HOW_FIGURES, type HowFigure, howOf } from "../../core/legs/how/how.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { legTableJson } from "../../core/legs/table/leg-table-json.ts";
import type { LegTable } from "../../core/legs/table/leg-table.ts";
import { oneLine } from "./say.ts";
import { plain } from "./rows.ts";

const FIGURES = Object.keys(HOW_FIGURES) as HowFigure[];
/** The same for every leg. */
const OF_WALK: readonly HowFigure[] = ["daylight"];

/** A paragraph a leg, a line a figure; what is the same for the whole walk last. */
export function explainedText(table: LegTable): string {
  const { legs } = table.figures;
  const [first] = legs;
  if (!first) return "";
  const lines = (leg: LegFigures, figures: readonly HowFigure[]): string[] =>
    figures.map((figure) => `  ${HOW_FIGURES[figure]}: ${howOf(figure, leg, table).join(" ")}`);
  const ofLegs = FIGURES.filter((figure) => !OF_WALK.includes(figure));
  const all = [
    "How this was worked out",
    ...legs.flatMap((leg) => ["", `${leg.n}  ${leg.from} → ${leg.to}`, ...lines(leg, ofLegs)]),
    "",
    "The walk",
    ...lines(first, OF_WALK),
  ];
  // Names from the map must not steer a terminal. The indent is kept.
  return all.map((line) => `${line.startsWith(" ") ? "  " : ""}${oneLine(plain(line))}\n`).join("");
}

/** The table for programs with a member `how` in every leg: sentences for each figure. */
export function explainedJson(table: LegTable): string {
  const json = legTableJson(table);
  const legs = json.legs.map((leg, i) => ({
    ...leg,
    how: Object.fromEntries(
      FIGURES.map((figure) => [figure, howOf(figure, table.figures.legs[i] as LegFigures, table)]),
    ),
  }));
  return `${JSON.stringify({ ...json, legs }, null, 2)}\n`;
}
