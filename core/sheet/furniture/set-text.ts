/** Text set in a column: broken into lines at spaces, made a little smaller before anything is left out. */
import {
  type Face,
  type Ink,
  type PageItem,
  type PaperPoint,
  points,
  type Rect,
  type TextItem,
} from "../page/page.ts";
import { INKS } from "../page/inks.ts";
import type { TextRuler } from "../page/text-ruler.ts";

export const BLACK: Ink = INKS.black;

export interface TextLook {
  readonly face?: Face;
  /** Size in points. */
  readonly pt?: number;
  readonly ink?: Ink;
  readonly anchor?: "start" | "middle" | "end";
  readonly haloMm?: number;
}

export const textAt = (text: string, at: PaperPoint, look: TextLook = {}): TextItem => ({
  kind: "text",
  text,
  at,
  face: look.face ?? "text",
  sizeMm: points(look.pt ?? 9),
  ink: look.ink ?? BLACK,
  ...(look.anchor && { anchor: look.anchor }),
  ...(look.haloMm !== undefined && { haloMm: look.haloMm }),
});

/** Lines no wider than `widthMm`: broken at ordinary spaces only, words that are too long anywhere between letters. */
export function wrapText(
  text: string,
  widthMm: number,
  face: Face,
  sizeMm: number,
  ruler: TextRuler,
): string[] {
  const fits = (line: string): boolean => ruler.widthMm(line, face, sizeMm) <= widthMm;
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/[ \n\t]+/).filter((w) => w !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (fits(longer)) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    line = "";
    for (const letter of fits(word) ? [word] : letters.segment(word)) {
      const next = typeof letter === "string" ? letter : letter.segment;
      if (line !== "" && !fits(line + next)) {
        lines.push(line);
        line = "";
      }
      line += next;
    }
  }
  return line === "" ? lines : [...lines, line];
}

const letters = new Intl.Segmenter(undefined, { granularity: "grapheme" });

/** One line, cut with an ellipsis where it is wider than `widthMm`. */
export function cutText(text: string, widthMm: number, face: Face, sizeMm: number, ruler: TextRuler): string {
  const line = text.replace(/\s+/g, " ").trim();
  if (ruler.widthMm(line, face, sizeMm) <= widthMm) return line;
  const parts = Array.from(letters.segment(line), ({ segment }) => segment);
  // The widest beginning that fits, by halving: a label may have thousands of letters.
  let [fits, not] = [0, parts.length];
  while (not - fits > 1) {
    const middle = (fits + not) >> 1;
    const width = ruler.widthMm(`${parts.slice(0, middle).join("")}…`, face, sizeMm);
    if (width <= widthMm) fits = middle;
    else not = middle;
  }
  return `${parts.slice(0, fits).join("").trimEnd()}…`;
}

export interface Paragraph {
  readonly text: string;
  readonly face?: Face;
  /** Lines it may have; more are cut off with an ellipsis. Default as many as it takes. */
  readonly lines?: number;
}

export interface SetColumn {
  readonly items: readonly PageItem[];
  /** Height taken from the column's top, millimetres. */
  readonly heightMm: number;
  /** Not all of it went in, even in the least size. */
  readonly cut: boolean;
}

/** Line height in font sizes. */
const LEADING = 1.22;
const BETWEEN = 0.35;

/**
 * Paragraphs in a column from its top: in `pt` points, or down to `leastPt` where they would not fit. What does not fit even
 * then is left off at the end, a whole line at a time: what matters most comes first.
 */
export function setColumn(
  paragraphs: readonly Paragraph[],
  column: Rect,
  ruler: TextRuler,
  { pt = 8, leastPt = 7 }: { readonly pt?: number; readonly leastPt?: number } = {},
): SetColumn {
  for (let size = pt; ; size -= 0.25) {
    const set = setAt(paragraphs, column, ruler, points(size));
    if (!set.cut || size - 0.25 < leastPt) return set;
  }
}

function setAt(paragraphs: readonly Paragraph[], column: Rect, ruler: TextRuler, sizeMm: number): SetColumn {
  const items: PageItem[] = [];
  let y = column.y;
  for (const { text, face = "text", lines = Infinity } of paragraphs) {
    const all = wrapText(text, column.width, face, sizeMm, ruler);
    const shown = all.slice(0, lines);
    if (all.length > shown.length)
      shown.push(cutText(`${shown.pop() ?? ""} ${all[lines] ?? ""}`, column.width, face, sizeMm, ruler));
    for (const line of shown) {
      const descent = ruler.descentMm(face, sizeMm);
      if (y + sizeMm * LEADING > column.y + column.height + descent)
        return { items, heightMm: y - column.y, cut: true };
      items.push(
        textAt(line, [column.x, y + ruler.capHeightMm(face, sizeMm)], { face, pt: sizeMm / points(1) }),
      );
      y += sizeMm * LEADING;
    }
    y += sizeMm * BETWEEN;
  }
  return { items, heightMm: y - column.y, cut: false };
}
