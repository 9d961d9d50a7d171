/**
 * Heights written on index contours: in straight stretches, heads towards higher ground, never close to one another.
 * Common practice of topographic maps, no source for the distances.
 */
import { INKS } from "../page/inks.ts";
import { points, type TextItem } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { LabelSpace } from "./label-space.ts";
import { stretchesOf } from "./line-stretches.ts";
import type { PaperLine } from "./map-sheet.ts";
import { blockBox, blockItems, textBlock } from "./text-block.ts";
import type { UphillSide } from "./uphill.ts";

const APART_MM = 16;
/** Along one contour. */
const AGAIN_MM = 85;
const STEP_MM = 1.5;
const STRAY_MM = 0.35;

export interface FigureWish {
  readonly pt: number;
  /** Metres in the unit written. */
  readonly unitM: number;
  /** Lines run with higher ground on their left, as this program's own maps have them. */
  readonly leftIsHigher: boolean;
}

export function contourFigures(
  contours: readonly PaperLine[],
  uphill: UphillSide,
  space: LabelSpace,
  ruler: TextRuler,
  wish: FigureWish,
): TextItem[] {
  const items: TextItem[] = [];
  const put: { readonly x: number; readonly y: number; readonly m: number }[] = [];
  const look = { face: "text", sizeMm: points(wish.pt), ink: INKS.contourName } as const;
  for (const { feature, parts } of contours) {
    const m = feature.elevationM;
    if (Number.isNaN(m)) continue;
    const block = textBlock([{ text: String(Math.round(m / wish.unitM)), look }], ruler);
    for (const part of parts) {
      const stretches = stretchesOf(part, block.widthMm + 1.2, STEP_MM, STRAY_MM);
      // Straight first; of those alike, figures that stand on their feet.
      const cost = (s: (typeof stretches)[number]): number => s.strayMm + (s.dx < -0.2 ? 0.15 : 0);
      stretches.sort((a, b) => cost(a) - cost(b));
      for (const { x, y, dx, dy } of stretches) {
        const near = put.some((p) => Math.hypot(p.x - x, p.y - y) < (p.m === m ? AGAIN_MM : APART_MM));
        if (near) continue;
        const side = uphill(x, y, dx, dy, m) || (wish.leftIsHigher ? 1 : 0);
        if (side === 0) continue;
        const turnDeg = (Math.atan2(dy * side, dx * side) * 180) / Math.PI;
        const box = blockBox(block, [x, y], turnDeg);
        if (!space.isFree(box)) continue;
        space.take(box);
        put.push({ x, y, m });
        items.push(...blockItems(block, [x, y], turnDeg));
      }
    }
  }
  return items;
}
