/** One or more lines of text as one label: its box, and its items where it is put. */
import { cutText, wrapText } from "../furniture/set-text.ts";
import type { Face, Ink, PaperPoint, TextItem } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { LabelBox } from "./label-space.ts";

export interface TextLook {
  readonly face: Face;
  readonly sizeMm: number;
  readonly ink: Ink;
}

export interface TextBlock {
  readonly lines: readonly { readonly text: string; readonly look: TextLook }[];
  readonly widthMm: number;
  readonly heightMm: number;
  /** From the block's top to each baseline. */
  readonly baselines: readonly number[];
}

/** Clear paper around letters, millimetres. */
export const HALO_MM = 0.3;
const LEADING = 1.12;
/** Accents rise above capitals by so much of the size. */
const ACCENT = 0.16;

/** @param wrapMm where a line is broken; at most three lines, the rest cut with an ellipsis */
export function textBlock(
  parts: readonly { readonly text: string; readonly look: TextLook }[],
  ruler: TextRuler,
  wrapMm = 30,
): TextBlock {
  const lines = parts.flatMap(({ text, look }) => {
    const wrapped = wrapText(text, wrapMm, look.face, look.sizeMm, ruler);
    const shown = wrapped.slice(0, 3);
    if (wrapped.length > 3)
      shown[2] = cutText(`${shown[2]} ${wrapped[3]}`, wrapMm, look.face, look.sizeMm, ruler);
    return shown.map((line) => ({ text: line, look }));
  });
  const baselines: number[] = [];
  let y = 0;
  for (const { look } of lines) {
    y += baselines.length === 0 ? topOf(look, ruler) : look.sizeMm * LEADING;
    baselines.push(y);
  }
  const last = lines.at(-1);
  return {
    lines,
    widthMm: Math.max(0, ...lines.map(({ text, look }) => ruler.widthMm(text, look.face, look.sizeMm))),
    heightMm: y + (last ? ruler.descentMm(last.look.face, last.look.sizeMm) : 0),
    baselines,
  };
}

const topOf = (look: TextLook, ruler: TextRuler): number =>
  ruler.capHeightMm(look.face, look.sizeMm) + ACCENT * look.sizeMm;

/** @param padMm clear space around it */
export const blockBox = (block: TextBlock, [x, y]: PaperPoint, turnDeg = 0, padMm = 0.3): LabelBox => ({
  x,
  y,
  halfWidth: block.widthMm / 2 + padMm,
  halfHeight: block.heightMm / 2 + padMm,
  turnDeg,
});

/** The block with its middle at a place, its lines centred. */
export function blockItems(block: TextBlock, [x, y]: PaperPoint, turnDeg = 0): TextItem[] {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  return block.lines.map(({ text, look }, i): TextItem => {
    const down = (block.baselines[i] as number) - block.heightMm / 2;
    return {
      kind: "text",
      text,
      at: [x - down * sin, y + down * cos],
      face: look.face,
      sizeMm: look.sizeMm,
      ink: look.ink,
      anchor: "middle",
      ...(turnDeg !== 0 && { turnDeg }),
      haloMm: HALO_MM,
    };
  });
}
