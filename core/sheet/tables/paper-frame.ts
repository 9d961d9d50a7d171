/** What all pages of text share: margins, sizes of type, the line at the foot with the page's number, letters no face has. */
import { INVENTED } from "../../legs/cautions.ts";
import { BLACK, cutText, textAt } from "../furniture/set-text.ts";
import { INKS } from "../page/inks.ts";
import { type Ink, lineShape, type Page, type PageItem, type PageSet, points } from "../page/page.ts";
import type { PaperSize } from "../page/paper-size.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { PageRoom } from "./paginate.ts";
import { HAIRLINE_MM, lineMm, linesOf, type Span } from "./text-block.ts";

/** How pages of text look. */
export interface PaperLook {
  readonly paper: PaperSize;
  /** No text below 14 pt; else none below 9 pt. */
  readonly large?: boolean;
  /** Black only. Nothing is told by colour alone in any case. */
  readonly blackAndWhite?: boolean;
}

/** Sizes of type, points. */
export interface Sizes {
  readonly title: number;
  readonly body: number;
  readonly small: number;
  /** The bearing to dial. */
  readonly dial: number;
  /** All sizes and widths that go with the type, against the usual. */
  readonly factor: number;
}

export const sizesOf = ({ large }: Pick<PaperLook, "large">): Sizes =>
  large
    ? { title: 20, body: 14, small: 14, dial: 18, factor: 1.4 }
    : { title: 16, body: 10, small: 9, dial: 13, factor: 1 };

/** What a walker must mind, in colour; its word stands beside it in any case. */
export const mindInk = ({ blackAndWhite }: Pick<PaperLook, "blackAndWhite">): Ink =>
  blackAndWhite ? BLACK : INKS.mind;

export interface TextFrame extends PageRoom, Span {
  readonly footMm: number;
}

/** Margins grow with the paper, 9 to 15 mm. Common practice, no source. */
export function textFrame(look: PaperLook, invented: boolean, ruler: TextRuler): TextFrame {
  const { paper } = look;
  const margin = Math.min(15, Math.max(9, 0.06 * Math.min(paper.widthMm, paper.heightMm)));
  const { small } = sizesOf(look);
  const width = paper.widthMm - 2 * margin;
  const footMm = lineMm(small) * (invented ? 1 + inventedLines(width, small, ruler).length : 1);
  return {
    x: margin,
    width,
    topMm: margin,
    bottomMm: paper.heightMm - margin - footMm - 2,
    footMm,
  };
}

const inventedLines = (width: number, pt: number, ruler: TextRuler): string[] =>
  linesOf(INVENTED, width, { pt, face: "textBold" }, ruler);

export interface Described {
  /** What the set is, and each page with its number: "Leg table". */
  readonly name: string;
  /** Of the walk, with its day. */
  readonly title: string;
  readonly invented: boolean;
  readonly notes: readonly string[];
}

/** Pages with their foot lines: whose they are, their number, and that the place is invented. */
export function asPages(
  contents: readonly (readonly PageItem[])[],
  frame: TextFrame,
  look: PaperLook,
  { name, title, invented, notes }: Described,
  ruler: TextRuler,
): PageSet {
  const { small } = sizesOf(look);
  const pages = contents.map((items, i): Page => {
    const number = `Page ${i + 1} of ${contents.length}`;
    const numberMm = ruler.widthMm(number, "text", points(small));
    const top = look.paper.heightMm - frame.topMm - frame.footMm;
    const first = top + lineMm(small) * 0.8;
    const right = frame.x + frame.width;
    const whose = cutText(title, frame.width - numberMm - 6, "text", points(small), ruler);
    return {
      ...look.paper,
      title: contents.length === 1 ? name : `${name}, page ${i + 1}`,
      items: [
        ...items,
        {
          kind: "shape",
          shape: lineShape([frame.x, top], [right, top]),
          stroke: { ink: BLACK, widthMm: HAIRLINE_MM },
        },
        textAt(whose, [frame.x, first], { pt: small }),
        textAt(number, [right, first], { pt: small, anchor: "end" }),
        ...(invented
          ? inventedLines(frame.width, small, ruler).map((line, k) =>
              textAt(line, [frame.x, first + lineMm(small) * (k + 1)], { pt: small, face: "textBold" }),
            )
          : []),
      ],
    };
  });
  return { title: `${name}: ${title}`, pages, notes };
}

/** A sentence on letters that no face has, for texts a person wrote; none when there are none. */
export function missingNotes(texts: readonly string[], ruler: TextRuler): string[] {
  const missing = new Set(texts.flatMap((text) => ruler.missing(text, "text")));
  if (missing.size === 0) return [];
  const shown = [...missing].slice(0, 8).join(" ");
  return [
    `No face here has these letters, which are printed as empty boxes: ${shown}${missing.size > 8 ? " …" : ""}`,
  ];
}
