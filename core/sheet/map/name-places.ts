/** Where a name may stand, and the first of such places that is free. */
import { type Face, type Ink, type PaperPoint, points, type TextItem } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { LabelSpace } from "./label-space.ts";
import type { MapLook } from "./map-look.ts";
import type { MapSheet } from "./map-sheet.ts";
import { blockBox, blockItems, type TextBlock, type TextLook } from "./text-block.ts";

export interface NameContext {
  readonly sheet: MapSheet;
  readonly look: MapLook;
  readonly space: LabelSpace;
  readonly ruler: TextRuler;
  /** Metres in the unit heights are written in. */
  readonly unitM: number;
}

export const textLook = (face: Face, pt: number, ink: Ink): TextLook => ({ face, sizeMm: points(pt), ink });

/** Takes the first free of several places. */
export function putFirst(
  { space }: NameContext,
  block: TextBlock,
  places: readonly PaperPoint[],
  turnDeg = 0,
): TextItem[] {
  for (const at of places) {
    const box = blockBox(block, at, turnDeg);
    if (!space.isFree(box)) continue;
    space.take(box);
    return blockItems(block, at, turnDeg);
  }
  return [];
}

/** Places round a point for a block's middle: right, left, above, below, then the corners. */
export function around([x, y]: PaperPoint, block: TextBlock, gapMm: number): PaperPoint[] {
  const [w, h] = [block.widthMm / 2 + gapMm + 0.3, block.heightMm / 2 + gapMm + 0.3];
  return [
    [x + w, y],
    [x - w, y],
    [x, y - h],
    [x, y + h],
    [x + w, y - h],
    [x - w, y - h],
    [x + w, y + h],
    [x - w, y + h],
  ];
}
