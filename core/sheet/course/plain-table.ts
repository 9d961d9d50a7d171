/** A table on paper: headings, rows of text and of empty boxes to write in; rows stay whole, headings stand again on each page. */
import type { TextRuler } from "../page/text-ruler.ts";
import type { Block } from "../tables/paginate.ts";
import { joined, linesOf, type Look, rowPieces, rule, type Span } from "../tables/text-block.ts";

export interface PlainColumn {
  readonly heading: string;
  /** Share of the width, against the other columns. */
  readonly share: number;
  readonly align?: "left" | "right" | "middle";
}

/** Text of a cell; null is a box to write in. */
export type PlainCell = string | null;

const GAP_MM = 2;
const BOX_MM = 6.5;

/** @param pt size of the type, points; headings are bold in the same */
export function plainTable(
  columns: readonly PlainColumn[],
  rows: readonly (readonly PlainCell[])[],
  { x, width }: Span,
  pt: number,
  ruler: TextRuler,
): Block[] {
  const shares = columns.reduce((sum, { share }) => sum + share, 0);
  const free = width - GAP_MM * (columns.length - 1);
  let at = x;
  const spans = columns.map(({ share }): Span => {
    const span = { x: at, width: (free * share) / shares };
    at += span.width + GAP_MM;
    return span;
  });
  const cellOf = (text: PlainCell, i: number, look: Look) => {
    const span = spans[i] as Span;
    const lines = text === null ? [] : linesOf(text, span.width, look, ruler);
    return {
      ...span,
      ...look,
      align: columns[i]?.align ?? "left",
      lines,
      ...(text === null && { boxMm: BOX_MM }),
    };
  };
  const bold = { pt, face: "textBold" } as const;
  const head = joined([
    ...rowPieces(
      columns.map(({ heading }, i) => ({ ...cellOf(heading, i, bold), foot: true })),
      ruler,
    ),
    rule({ x, width }, 0.25),
  ]);
  return rows.map((cells) => ({
    head,
    pieces: [
      joined([
        ...rowPieces(
          cells.map((text, i) => cellOf(text, i, { pt })),
          ruler,
        ),
        rule({ x, width }),
      ]),
    ],
  }));
}
