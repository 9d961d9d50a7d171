/** Where labels of the walk have been put on a sheet, and where its legs run. */
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { type LabelBox, LabelSpace, rectOf } from "../map/label-space.ts";
import type { Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";

/** Width of a leg with the white on both sides of it, millimetres. */
export const CASING_MM = 1.4;

export interface Placing {
  readonly frame: SheetFrame;
  readonly ruler: TextRuler;
  readonly space: LabelSpace;
  /** Where legs run: labels stand aside of them as long as there is room elsewhere. */
  readonly legs: LabelSpace;
  readonly sizeMm: number;
  readonly taken: Rect[];
  readonly notes: string[];
}

export function take({ space, taken }: Placing, box: LabelBox): void {
  space.take(box);
  taken.push(rectOf(box));
}

/**
 * The first place that is free, of those clear of all legs before others; null when there is none.
 * @param boxOf what a place takes up
 */
export function firstFree<P>(
  { space, legs }: Placing,
  places: readonly P[],
  boxOf: (place: P) => LabelBox,
): P | null {
  const free = places.filter((place) => space.isFree(boxOf(place)));
  return free.find((place) => legs.isFree(boxOf(place))) ?? free[0] ?? null;
}

/** Small boxes along a line, so that no name lies across it. */
export function alongLine(line: Float64Array): Rect[] {
  const boxes: Rect[] = [];
  const [half, step] = [CASING_MM / 2, 1.2];
  for (let i = 2; i < line.length; i += 2) {
    const [ax, ay] = [line[i - 2] as number, line[i - 1] as number];
    const [dx, dy] = [(line[i] as number) - ax, (line[i + 1] as number) - ay];
    const n = Math.ceil(Math.hypot(dx, dy) / step);
    for (let k = 0; k <= n; k++)
      boxes.push({
        x: ax + (dx * k) / n - half,
        y: ay + (dy * k) / n - half,
        width: 2 * half,
        height: 2 * half,
      });
  }
  return boxes;
}

export const boxAround = ({ x, y, width, height }: Rect, padMm: number): LabelBox => ({
  x: x + width / 2,
  y: y + height / 2,
  halfWidth: width / 2 + padMm,
  halfHeight: height / 2 + padMm,
  turnDeg: 0,
});
