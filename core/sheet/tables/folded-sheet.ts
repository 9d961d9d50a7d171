/**
 * A sheet that folds into a book of eight panels: lying on its long side, four panels in each of two rows. It is folded along
 * all the dashes, cut along the middle of the two inner panels, and pushed together from its ends into four leaves.
 * Common practice, no source; the tests fold a model of it.
 */
import { BLACK } from "../furniture/set-text.ts";
import { INKS } from "../page/inks.ts";
import { type PageItem, type PaperPoint, type Rect, type Shape, lineShape } from "../page/page.ts";
import type { PaperSize } from "../page/paper-size.ts";

export interface Panel {
  /** Page of the book, from 1, the cover. */
  readonly page: number;
  readonly rect: Rect;
  /** It stands on its head on the flat sheet. */
  readonly turned: boolean;
}

/** Pages from left to right: the upper row on its head, the lower upright. */
const UPPER = [7, 6, 5, 4] as const;
const LOWER = [8, 1, 2, 3] as const;

/** The sheet lying on its long side. */
export function flatSheet({ widthMm, heightMm }: PaperSize): PaperSize {
  return { widthMm: Math.max(widthMm, heightMm), heightMm: Math.min(widthMm, heightMm) };
}

/** Where the eight panels lie, in the order of the book. */
export function panelsOf(paper: PaperSize): Panel[] {
  const { widthMm, heightMm } = flatSheet(paper);
  const [width, height] = [widthMm / 4, heightMm / 2];
  const row = (pages: readonly number[], y: number, turned: boolean): Panel[] =>
    pages.map((page, i) => ({ page, turned, rect: { x: i * width, y, width, height } }));
  return [...row(UPPER, 0, true), ...row(LOWER, height, false)].toSorted((a, b) => a.page - b.page);
}

/** Folds, in dashes, and the cut, a full line; `keepMm` at the paper's edge stays free. */
export function foldMarks(
  paper: PaperSize,
  keepMm: number,
): { readonly folds: PageItem[]; readonly cut: PageItem } {
  const { widthMm, heightMm } = flatSheet(paper);
  const middle = heightMm / 2;
  const dashed = (from: PaperPoint, to: PaperPoint): PageItem => ({
    kind: "shape",
    shape: lineShape(from, to),
    stroke: { ink: INKS.soft, widthMm: 0.15, dashMm: [2, 2] },
  });
  return {
    folds: [
      ...[1, 2, 3].map((i) => dashed([(i * widthMm) / 4, keepMm], [(i * widthMm) / 4, heightMm - keepMm])),
      dashed([keepMm, middle], [widthMm / 4, middle]),
      dashed([(3 * widthMm) / 4, middle], [widthMm - keepMm, middle]),
    ],
    cut: {
      kind: "shape",
      shape: lineShape([widthMm / 4, middle], [(3 * widthMm) / 4, middle]),
      stroke: { ink: BLACK, widthMm: 0.4 },
    },
  };
}

/** Items of a panel, drawn from its own upper left corner, where they stand on the sheet. */
export function onSheet(items: readonly PageItem[], { rect, turned }: Panel): PageItem[] {
  const place = ([x, y]: PaperPoint): PaperPoint =>
    turned ? [rect.x + rect.width - x, rect.y + rect.height - y] : [rect.x + x, rect.y + y];
  const shape = ({ parts, closed }: Shape): Shape => ({
    closed,
    parts: parts.map((part) => {
      const moved = new Float64Array(part.length);
      for (let i = 0; i + 1 < part.length; i += 2)
        moved.set(place([part[i] as number, part[i + 1] as number]), i);
      return moved;
    }),
  });
  return items.map((item): PageItem => {
    switch (item.kind) {
      case "shape":
        return { ...item, shape: shape(item.shape) };
      case "text":
        return { ...item, at: place(item.at), ...(turned && { turnDeg: ((item.turnDeg ?? 0) + 180) % 360 }) };
      case "group": {
        const { clip, ...rest } = item;
        const inner = { ...rest, items: onSheet(item.items, { rect, turned, page: 0 }) };
        if (!clip) return inner;
        const [x, y] = place([turned ? clip.x + clip.width : clip.x, turned ? clip.y + clip.height : clip.y]);
        return { ...inner, clip: { ...clip, x, y } };
      }
    }
  });
}
