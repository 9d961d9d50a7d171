/** Which columns stand side by side in a leg's row, how wide, and which go under it. */

import type { TextRuler } from "../page/text-ruler.ts";
import type { PrintColumn } from "./table-columns.ts";
import { linesOf, type Look, type Span, widestMm } from "./text-block.ts";

export interface Placed extends Span {
  readonly column: PrintColumn;
  readonly headingLines: readonly string[];
}

export interface ColumnFit {
  /** Number and ends of the leg. */
  readonly first: Span;
  readonly inRow: readonly Placed[];
  /** Figures and boxes there is no room for side by side, in order. */
  readonly below: readonly PrintColumn[];
  /** Sentences under the row, in order. */
  readonly words: readonly PrintColumn[];
}

export interface FitLook {
  readonly heading: Look;
  readonly factor: number;
  /** Width of the widest text of a figure's column, millimetres. */
  readonly widestOf: (column: PrintColumn) => number;
  /** Widths wanted for number and ends. */
  readonly firstMm: number;
}

/** Between columns, millimetres; the longer part stands before right-aligned figures. */
const GAP_MM = 1.8;
/** Sentences stand in the row only where each has this much, millimetres at 10 pt. */
const WORDS_MM = 45;

/** Side by side as many of the figures as there is room for, from the first; sentences too where all of them fit. */
export function fitColumns(
  columns: readonly PrintColumn[],
  { x, width }: Span,
  { heading, factor, widestOf, firstMm }: FitLook,
  ruler: TextRuler,
): ColumnFit {
  const gap = GAP_MM * factor;
  const needs = (column: PrintColumn): number =>
    Math.max(
      column.leastMm * factor,
      widestMm(column.heading.split(" "), heading, ruler),
      column.kind === "figure" ? widestOf(column) : 0,
    );
  const figures = columns.filter(({ kind }) => kind !== "words");
  const words = columns.filter(({ kind }) => kind === "words");
  let used = firstMm;
  let fitting = 0;
  for (const column of figures) {
    used += gap + needs(column);
    if (used > width) break;
    fitting++;
  }
  const shown = new Set(figures.slice(0, fitting));
  const figuresMm = firstMm + [...shown].reduce((sum, column) => sum + gap + needs(column), 0);
  const wordsMm = (width - figuresMm) / words.length - gap;
  const abreast = fitting === figures.length && words.length > 0 && wordsMm >= WORDS_MM * factor;
  const inRow = columns.filter((column) => (column.kind === "words" ? abreast : shown.has(column)));
  // What is left over is shared out, so that the table is as wide as the page.
  const spare = abreast || inRow.length === 0 ? 0 : Math.max(0, width - figuresMm) / (inRow.length + 1);
  const firstSpan = { x, width: inRow.length === 0 ? width : firstMm + spare };
  let at = x + firstSpan.width;
  return {
    first: firstSpan,
    inRow: inRow.map((column) => {
      const need = column.kind === "words" ? wordsMm : needs(column);
      // Boxes grow; figures keep their width and stand at the right of what is theirs.
      const grows = column.kind === "blank" ? Math.min(spare, 12 * factor) : 0;
      const left = column.align === "right" ? at + gap + spare : at + gap;
      at += gap + need + spare;
      const span = { x: left, width: need + grows };
      return { ...span, column, headingLines: linesOf(column.heading, span.width, heading, ruler) };
    }),
    below: figures.slice(fitting),
    words: abreast ? [] : words,
  };
}

/** Runs of things side by side, as many to a line as fit; each at least begins a line. */
export function flowed<T>(
  things: readonly T[],
  widthOf: (thing: T) => number,
  widthMm: number,
  gapMm: number,
): T[][] {
  const lines: T[][] = [];
  let used = Infinity;
  for (const thing of things) {
    const width = widthOf(thing);
    if (used + gapMm + width > widthMm) {
      lines.push([]);
      used = -gapMm;
    }
    (lines.at(-1) as T[]).push(thing);
    used += gapMm + width;
  }
  return lines;
}
