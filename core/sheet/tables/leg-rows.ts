/** The rows of a leg table: its heading, a block for each leg, the totals. */
import type { LegFigures } from "../../legs/figures.ts";
import { dialColumn, type LegTable } from "../../legs/table/leg-table.ts";
import { formatNumber } from "../../units/format.ts";
import { BLACK } from "../furniture/set-text.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { type ColumnFit, fitColumns, flowed } from "./fit-columns.ts";
import { acceptedWords } from "./handout.ts";
import type { Tolerance } from "./tolerance.ts";
import type { Block } from "./paginate.ts";
import { mindInk, type PaperLook, type Sizes, sizesOf, type TextFrame } from "./paper-frame.ts";
import { totalsOf } from "./leg-totals.ts";
import type { PrintColumn } from "./table-columns.ts";
import {
  type Cell,
  hanging,
  joined,
  linesOf,
  type Look,
  paragraph,
  type Piece,
  rowPieces,
  rule,
  space,
  widestMm,
} from "./text-block.ts";

export interface RowsWish {
  readonly frame: TextFrame;
  readonly look: PaperLook & { readonly handout?: "questions" | "answers" };
  readonly hidden: ReadonlySet<string>;
  readonly tolerance: Tolerance;
}

export interface LegRows {
  /** Set when they are asked for: whether all columns fit is known before. */
  readonly blocks: () => readonly Block[];
  /** Figures that stand under the rows for want of width. */
  readonly belowCount: number;
}

/** Longest ends of a leg that stand beside its number, millimetres at 10 pt; longer ones have a line of their own. */
const ENDS_MM = 22;
/** Height of a box to write in, and its least width where a figure is left out, millimetres. */
const BOX_MM = 6.5;
const ANSWER_MM = 16;

/**
 * @param columns in order, as `printColumns` gives them
 */
export function legRowsOf(
  table: LegTable,
  columns: readonly PrintColumn[],
  { frame, look, hidden, tolerance }: RowsWish,
  ruler: TextRuler,
): LegRows {
  const { legs } = table.figures;
  const sizes = sizesOf(look);
  const { factor } = sizes;
  const body: Look = { pt: sizes.body };
  const small: Look = { pt: sizes.small };
  const heading: Look = { pt: sizes.small, face: "textBold" };
  const dial: Look = { pt: sizes.dial, face: "textBold" };
  const number: Look = { pt: sizes.body, face: "textBold" };
  const dialId = dialColumn(table);
  const lookOf = ({ id }: PrintColumn): Look => (id === dialId ? dial : body);
  const asks = look.handout === "questions";
  const isOpen = ({ id, kind }: PrintColumn): boolean => kind === "blank" || (asks && hidden.has(id));
  const sums = totalsOf(table);
  const sumOf = (column: PrintColumn): string => (isOpen(column) ? "" : (sums[column.id] ?? ""));
  const accepted = (column: PrintColumn, leg: LegFigures): string[] => {
    const words =
      look.handout === "answers" && hidden.has(column.id)
        ? acceptedWords(column.id, leg, table, tolerance)
        : null;
    return words === null ? [] : [words];
  };

  const ends = legs.map(({ from, to }) => `${from} → ${to}`);
  const numberMm = widestMm([formatNumber(legs.length), "Leg"], number, ruler) + 2 * factor;
  const isShort = ends.map(
    (text) => widestMm([text], body, ruler) <= ENDS_MM * factor && !/[\r\n]/.test(text),
  );
  const endsMm = widestMm(
    ends.filter((_, i) => isShort[i]),
    body,
    ruler,
  );
  const texts = new Map<PrintColumn, readonly string[]>(
    columns.map((column) => [column, legs.map((leg) => column.column?.text(leg, table) ?? "")]),
  );
  const fit = fitColumns(
    columns,
    frame,
    {
      heading,
      factor,
      firstMm: Math.max(numberMm + endsMm, widestMm(["Total"], number, ruler)),
      widestOf: (column) =>
        isOpen(column)
          ? ANSWER_MM * factor
          : Math.max(
              widestMm(texts.get(column) ?? [], lookOf(column), ruler),
              widestMm([sumOf(column)], number, ruler),
              widestMm(
                legs.flatMap((leg) => accepted(column, leg)),
                small,
                ruler,
              ),
            ),
    },
    ruler,
  );

  const head = joined([
    ...rowPieces(
      [
        { ...fit.first, ...heading, lines: ["Leg"], foot: true },
        ...fit.inRow.map(({ column, headingLines, x, width }): Cell => ({
          x,
          width,
          ...heading,
          align: column.align,
          lines: headingLines,
          foot: true,
        })),
      ],
      ruler,
    ),
    rule(frame, 0.3, 0.6, 1),
  ]);

  const hangMm = Math.min(
    frame.width / 3,
    widestMm(
      fit.words.map((column) => column.heading),
      heading,
      ruler,
    ) +
      2.5 * factor,
  );

  const legBlock = (leg: LegFigures, i: number): Block => {
    const cells: Cell[] = fit.inRow.map(({ column, x, width }) => {
      if (isOpen(column) && column.kind !== "words")
        return { x, width, ...body, lines: [], boxMm: BOX_MM * factor };
      const text = isOpen(column) ? "" : (texts.get(column)?.[i] ?? "");
      if (column.kind === "words") return { x, width, ...small, lines: linesOf(text, width, small, ruler) };
      return { x, width, ...lookOf(column), align: column.align, lines: [text] };
    });
    const row = rowPieces(
      [
        { x: frame.x, width: numberMm, ...number, lines: isShort[i] ? [formatNumber(leg.n)] : [] },
        ...(isShort[i]
          ? [{ x: frame.x + numberMm, width: endsMm, ...body, lines: [ends[i] as string] }]
          : []),
        ...cells,
      ],
      ruler,
    );
    const ranges = rowPieces(
      fit.inRow.map(({ column, x, width }) => ({
        x,
        width,
        ...small,
        align: column.align,
        lines: accepted(column, leg),
      })),
      ruler,
    );
    const hasRanges = fit.inRow.some(({ column }) => accepted(column, leg).length > 0);
    const names = isShort[i]
      ? []
      : hanging(formatNumber(leg.n), ends[i] as string, frame, numberMm, number, ruler);
    const way = table.describe && !asks ? wayPieces(leg, frame, small, numberMm, ruler) : [];
    const words = fit.words.flatMap((column) => {
      const under = { x: frame.x, width: frame.width };
      if (isOpen(column))
        return [
          ...hanging(column.heading, " ", under, hangMm, small, ruler),
          rule({ x: under.x + hangMm, width: under.width - hangMm }, 0.15, -0.5, 1.5),
        ];
      const text = texts.get(column)?.[i] ?? "";
      const ink = column.id === "hazards" ? mindInk(look) : BLACK;
      return text === "" ? [] : hanging(column.heading, text, under, hangMm, small, ruler, ink);
    });
    const below = belowPieces(
      fit,
      (column) =>
        isOpen(column) ? null : [texts.get(column)?.[i] ?? "", ...accepted(column, leg)].join(", accepted "),
      frame,
      sizes,
      ruler,
    );
    return {
      head,
      again: joined(paragraph(`Leg ${formatNumber(leg.n)}, continued`, frame, heading, ruler)),
      pieces: [...names, ...row, ...(hasRanges ? ranges : []), ...below, ...way, ...words, rule(frame)],
    };
  };

  const totals: Block = {
    head,
    pieces: [
      ...rowPieces(
        [
          { ...fit.first, ...number, lines: ["Total"] },
          ...fit.inRow.map(({ column, x, width }): Cell => ({
            x,
            width,
            ...number,
            align: column.align,
            lines: [column.kind === "words" ? "" : sumOf(column)],
          })),
        ],
        ruler,
      ),
      ...belowPieces(
        { ...fit, below: fit.below.filter((column) => sumOf(column) !== "") },
        sumOf,
        frame,
        sizes,
        ruler,
      ),
      ...(asks || sums["slopeDistanceM"] === undefined || columns.some(({ id }) => id === "slopeDistanceM")
        ? []
        : paragraph(`${sums["slopeDistanceM"]} over the slope`, frame, small, ruler)),
      rule(frame, 0.3),
    ],
  };
  return { blocks: () => [...legs.map(legBlock), totals], belowCount: fit.below.length };
}

/** The leg in plain words, numbered. */
function wayPieces(
  { onTheWay }: LegFigures,
  { x, width }: TextFrame,
  look: Look,
  numberMm: number,
  ruler: TextRuler,
): Piece[] {
  return onTheWay.flatMap(({ words }, i) =>
    hanging(`${i + 1}`, words, { x: x + numberMm, width: width - numberMm }, numberMm, look, ruler),
  );
}

/** Figures there is no room for in the row: heading and figure, or heading and box, as many to a line as fit. */
function belowPieces(
  { below }: ColumnFit,
  textOf: (column: PrintColumn) => string | null,
  { x, width }: TextFrame,
  { small, factor }: Sizes,
  ruler: TextRuler,
): Piece[] {
  const heading: Look = { pt: small };
  const figure: Look = { pt: small, face: "textBold" };
  const gap = 1.5 * factor;
  const things = below.map((column) => {
    const text = textOf(column);
    const headingMm = widestMm([column.heading], heading, ruler);
    const figureMm =
      text === null ? Math.max(ANSWER_MM, column.leastMm) * factor : widestMm([text], figure, ruler);
    return { column, text, headingMm, figureMm };
  });
  const lines = flowed(things, ({ headingMm, figureMm }) => headingMm + gap + figureMm, width, 5 * factor);
  return lines.flatMap((line) => {
    let at = x;
    const cells = line.flatMap(({ column, text, headingMm, figureMm }): Cell[] => {
      const left = at;
      at += headingMm + gap + figureMm + 5 * factor;
      const right = {
        x: left + headingMm + gap,
        width: Math.min(figureMm, x + width - left - headingMm - gap),
      };
      return [
        { x: left, width: headingMm, ...heading, lines: [column.heading] },
        text === null
          ? { ...right, ...figure, lines: [], boxMm: BOX_MM * factor }
          : { ...right, ...figure, lines: [text] },
      ];
    });
    return [...rowPieces(cells, ruler), space(0.4)];
  });
}
