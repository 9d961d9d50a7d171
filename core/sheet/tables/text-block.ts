/** Text for tables and cards: measured lines, rows of cells, paragraphs with hanging headings; all of it cut at line ends. */
import { BLACK, textAt, wrapText } from "../furniture/set-text.ts";
import { type Face, type Ink, lineShape, type PageItem, points, rectShape } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";

/** A strip of a page that is not cut: it takes a height and draws itself from a given y on, millimetres. */
export interface Piece {
  readonly heightMm: number;
  readonly draw: (yMm: number) => PageItem[];
}

export interface Look {
  readonly face?: Face;
  readonly pt: number;
  readonly ink?: Ink;
  readonly align?: "left" | "right" | "middle";
}

/** A column of text: where it begins and how wide it is. */
export interface Span {
  readonly x: number;
  readonly width: number;
}

export interface Cell extends Span, Look {
  readonly lines: readonly string[];
  /** Set at the foot of the row, as headings are, not at its head. */
  readonly foot?: boolean;
  /** An empty box in its place, this high. */
  readonly boxMm?: number;
}

/** Line height in font sizes. */
const LEADING = 1.25;
export const lineMm = (pt: number): number => points(pt) * LEADING;
export const HAIRLINE_MM = 0.15;

/**
 * The same ruler, which measures each word once: a line is as wide as its words and spaces. Letters are not joined across
 * ordinary spaces in any script, so nothing is lost by that.
 */
export function rememberingRuler(ruler: TextRuler): TextRuler {
  const known = new Map<Face, Map<string, number>>();
  const word = (text: string, face: Face): number => {
    if (text === "") return 0;
    let of = known.get(face);
    if (!of) known.set(face, (of = new Map()));
    let width = of.get(text);
    if (width === undefined) of.set(text, (width = ruler.widthMm(text, face, 1)));
    return width;
  };
  // Lines are built a word at a time: mostly what is asked is the line before and one word more.
  let last = { text: "", face: "text" as Face, width: 0 };
  return {
    ...ruler,
    widthMm(text, face, sizeMm) {
      const goesOn = face === last.face && last.text !== "" && text.startsWith(`${last.text} `);
      const words = (goesOn ? text.slice(last.text.length + 1) : text).split(" ");
      const spaces = goesOn ? words.length : words.length - 1;
      const width = words.reduce(
        (sum, one) => sum + word(one, face),
        (goesOn ? last.width : 0) + (spaces === 0 ? 0 : spaces * word(" ", face)),
      );
      last = { text, face, width };
      return width * sizeMm;
    },
    capHeightMm: (face, sizeMm) => ruler.capHeightMm(face, sizeMm),
    descentMm: (face, sizeMm) => ruler.descentMm(face, sizeMm),
    missing: (text, face) => ruler.missing(text, face),
  };
}

/** Lines of a text no wider than `widthMm`; line ends of the text stay line ends. A text without letters has none. */
export function linesOf(
  text: string,
  widthMm: number,
  { face = "text", pt }: Look,
  ruler: TextRuler,
): string[] {
  // A rounding error must not break a line that was measured for this very width.
  return text
    .split(/\r\n|[\r\n\u2028\u2029]/)
    .flatMap((part) => wrapText(part, widthMm + 1e-6, face, points(pt), ruler));
}

/** Width of the widest of some texts, each on one line. */
export const widestMm = (texts: readonly string[], { face = "text", pt }: Look, ruler: TextRuler): number =>
  texts.reduce((most, text) => Math.max(most, ruler.widthMm(text, face, points(pt))), 0);

function lineItem(text: string, { x, width }: Span, baseline: number, look: Look): PageItem {
  const { face = "text", pt, ink = BLACK, align = "left" } = look;
  const at = { left: x, middle: x + width / 2, right: x + width }[align];
  const anchor = ({ left: "start", middle: "middle", right: "end" } as const)[align];
  return textAt(text, [at, baseline], { face, pt, ink, ...(anchor !== "start" && { anchor }) });
}

/** Baseline below the top of a line in which the capitals stand in the middle. */
const baselineMm = ({ face = "text", pt }: Look, ruler: TextRuler): number =>
  (lineMm(pt) + ruler.capHeightMm(face, points(pt))) / 2;

/** Cells beside one another, one piece for each line, so that a tall row may be cut between lines. First lines share a baseline. */
export function rowPieces(cells: readonly Cell[], ruler: TextRuler): Piece[] {
  const lines = linePieces(cells, ruler);
  const boxes = cells.flatMap(({ x, width, boxMm }) =>
    boxMm === undefined ? [] : [{ x, width, height: boxMm }],
  );
  if (boxes.length === 0) return lines;
  // A box stands beside as many lines as it is high: those are not cut apart.
  const highMm = boxes.reduce((most, { height }) => Math.max(most, height), 0) + BOX_AROUND_MM;
  let beside = 0;
  let heightMm = 0;
  while (beside < lines.length && heightMm < highMm) heightMm += (lines[beside++] as Piece).heightMm;
  const text = joined(lines.slice(0, beside));
  return [
    {
      heightMm: Math.max(heightMm, highMm),
      draw: (y) => [...text.draw(y), ...boxes.map((one) => box({ ...one, y: y + BOX_AROUND_MM / 2 }))],
    },
    ...lines.slice(beside),
  ];
}

const BOX_AROUND_MM = 0.8;

function linePieces(cells: readonly Cell[], ruler: TextRuler): Piece[] {
  const count = cells.reduce((most, { lines }) => Math.max(most, lines.length), 1);
  return Array.from({ length: count }, (_, k) => {
    const here = cells.flatMap((cell) => {
      const text = cell.lines[cell.foot ? k - (count - cell.lines.length) : k];
      return text === undefined || text === "" ? [] : [{ cell, text }];
    });
    const all = here.length > 0 ? here.map(({ cell }) => cell) : cells.slice(0, 1);
    const baseline = all.reduce((most, cell) => Math.max(most, baselineMm(cell, ruler)), 0);
    const below = all.reduce((most, cell) => Math.max(most, lineMm(cell.pt) - baselineMm(cell, ruler)), 0);
    return {
      heightMm: baseline + below,
      draw: (y) => here.map(({ cell, text }) => lineItem(text, cell, y + baseline, cell)),
    };
  });
}

/** An empty box to write in. */
export const box = (rect: { x: number; y: number; width: number; height: number }): PageItem => ({
  kind: "shape",
  shape: rectShape(rect),
  stroke: { ink: BLACK, widthMm: HAIRLINE_MM, join: "miter" },
});

export const paragraph = (text: string, span: Span, look: Look, ruler: TextRuler): Piece[] =>
  linesOf(text, span.width, look, ruler).flatMap((line) =>
    rowPieces([{ ...span, ...look, lines: [line] }], ruler),
  );

/** A heading at the left, its text beside it, every line of it indented alike; without room beside, below it. */
export function hanging(
  heading: string,
  text: string,
  span: Span,
  hangMm: number,
  look: Look,
  ruler: TextRuler,
  headingInk: Ink = BLACK,
): Piece[] {
  const headingLook = { ...look, face: "textBold" as const, ink: headingInk };
  const beside = widestMm([heading], headingLook, ruler) <= hangMm - 1;
  const textSpan = { x: span.x + hangMm, width: span.width - hangMm };
  const lines = linesOf(text, textSpan.width, look, ruler);
  if (!beside)
    return [
      ...paragraph(heading, span, headingLook, ruler),
      ...rowPieces([{ ...textSpan, ...look, lines }], ruler),
    ];
  return rowPieces(
    [
      { x: span.x, width: hangMm, ...headingLook, lines: [heading] },
      { ...textSpan, ...look, lines },
    ],
    ruler,
  );
}

export const space = (heightMm: number): Piece => ({ heightMm, draw: () => [] });

/** A line across; the space around it is part of it. */
export const rule = ({ x, width }: Span, widthMm = HAIRLINE_MM, aboveMm = 0.8, belowMm = 0.8): Piece => ({
  heightMm: aboveMm + belowMm,
  draw: (y) => [
    {
      kind: "shape",
      shape: lineShape([x, y + aboveMm], [x + width, y + aboveMm]),
      stroke: { ink: BLACK, widthMm },
    },
  ],
});

/** Pieces that belong together as one that is not cut. */
export function joined(pieces: readonly Piece[]): Piece {
  return {
    heightMm: pieces.reduce((sum, { heightMm }) => sum + heightMm, 0),
    draw(y) {
      let at = y;
      return pieces.flatMap(({ heightMm, draw }) => {
        const items = draw(at);
        at += heightMm;
        return items;
      });
    },
  };
}

/** A heading and a line to write on, with room above it for a hand. */
export function writingLine(heading: string, { x, width }: Span, hangMm: number, look: Look): Piece[] {
  const heightMm = Math.max(7, lineMm(look.pt) * 1.4);
  const baseline = heightMm - 1.6;
  return [
    {
      heightMm,
      draw: (y) => [
        ...(heading === ""
          ? []
          : [lineItem(heading, { x, width: hangMm }, y + baseline, { ...look, face: "textBold" })]),
        {
          kind: "shape",
          shape: lineShape([x + hangMm, y + baseline + 0.6], [x + width, y + baseline + 0.6]),
          stroke: { ink: BLACK, widthMm: HAIRLINE_MM },
        },
      ],
    },
  ];
}
