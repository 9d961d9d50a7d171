/** What the sheets of every course have at their head and foot, and how their pages are put together. */
import { inGrey } from "../page/inks.ts";
import type { Page, PageItem, PageSet } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import { onSheet } from "../tables/folded-sheet.ts";
import { type Block, paginate } from "../tables/paginate.ts";
import { asPages, type PaperLook, sizesOf, type Sizes, type TextFrame } from "../tables/paper-frame.ts";
import { type Piece, paragraph, space, writingLine } from "../tables/text-block.ts";

export const COURSE_PARTS = ["learner", "setter", "scoring"] as const;
export type CoursePart = (typeof COURSE_PARTS)[number];

export const PART_NAMES: Readonly<Record<CoursePart, string>> = {
  learner: "Learner’s sheet",
  setter: "Setter’s sheet",
  scoring: "Scoring sheet",
};

export interface SheetSetting {
  readonly look: PaperLook;
  readonly frame: TextFrame;
  readonly sizes: Sizes;
  readonly ruler: TextRuler;
  readonly invented: boolean;
}

/** What is drawn about an origin of its own, put down in the column. */
export const drawnPiece = (items: readonly PageItem[], x: number, heightMm: number): Piece => ({
  heightMm,
  draw: (y) => onSheet(items, { rect: { x, y, width: 0, height: 0 }, turned: false, page: 0 }),
});

export const textBlock = (
  texts: readonly string[],
  { frame, sizes, ruler }: SheetSetting,
  pt = sizes.body,
): Block => ({
  pieces: [...texts.flatMap((text) => paragraph(text, frame, { pt }, ruler)), space(2)],
  loose: true,
});

export function headBlock(name: string, title: string, lines: boolean, setting: SheetSetting): Block {
  const { frame, sizes, ruler } = setting;
  const body = { pt: sizes.body };
  const names = { ...frame, width: Math.min(frame.width, 110) };
  return {
    pieces: [
      ...paragraph(name, frame, { pt: sizes.title, face: "textBold" }, ruler),
      ...paragraph(title, frame, body, ruler),
      space(2),
      ...(lines ? [...writingLine("Name", names, 16 * sizes.factor, body), space(2)] : []),
    ],
  };
}

/** One part's pages, numbered by themselves: each is handed to somebody else. */
export function partPages(
  part: CoursePart,
  title: string,
  blocks: readonly Block[],
  { look, frame, ruler, invented }: SheetSetting,
): readonly Page[] {
  const described = { name: PART_NAMES[part], title, invented, notes: [] };
  const { pages } = asPages(paginate(blocks, frame), frame, look, described, ruler);
  return look.blackAndWhite ? pages.map((page) => ({ ...page, items: inGrey(page.items) })) : pages;
}

export const setOf = (title: string, pages: readonly Page[], notes: readonly string[]): PageSet => ({
  title,
  pages,
  notes: [...new Set(notes)],
});

export const settingOf = (
  look: PaperLook,
  frame: TextFrame,
  invented: boolean,
  ruler: TextRuler,
): SheetSetting => ({ look, frame, sizes: sizesOf(look), ruler, invented });
