/** Which places on the page are taken: boxes at any angle, found by a raster of cells. */
import type { PaperPoint, Rect } from "../page/page.ts";

/** A box about its middle, turned clockwise on the page. */
export interface LabelBox {
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
  readonly halfHeight: number;
  readonly turnDeg: number;
}

export const boxOfRect = ({ x, y, width, height }: Rect): LabelBox => ({
  x: x + width / 2,
  y: y + height / 2,
  halfWidth: width / 2,
  halfHeight: height / 2,
  turnDeg: 0,
});

export function cornersOf({ x, y, halfWidth: w, halfHeight: h, turnDeg }: LabelBox): readonly PaperPoint[] {
  const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
  return [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ].map(([a = 0, b = 0]) => [x + a * cos - b * sin, y + a * sin + b * cos]);
}

/** Upright box around a box. */
export function rectOf(box: LabelBox): Rect {
  const corners = cornersOf(box);
  const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y };
}

/** Two convex shapes are apart if and only if a side of one separates them (separating axis theorem). */
export function boxesOverlap(a: LabelBox, b: LabelBox): boolean {
  const [ca, cb] = [cornersOf(a), cornersOf(b)];
  for (const turn of [a.turnDeg, a.turnDeg + 90, b.turnDeg, b.turnDeg + 90]) {
    const [ux, uy] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
    const pa = ca.map(([x, y]) => x * ux + y * uy);
    const pb = cb.map(([x, y]) => x * ux + y * uy);
    if (Math.max(...pa) <= Math.min(...pb) || Math.max(...pb) <= Math.min(...pa)) return false;
  }
  return true;
}

const CELL_MM = 8;
/** A label keeps this far from the neat line, millimetres. */
const EDGE_MM = 0.6;

export class LabelSpace {
  readonly #cells = new Map<string, LabelBox[]>();
  readonly #room: Rect;

  constructor(map: Rect, taken: readonly Rect[]) {
    this.#room = {
      x: map.x + EDGE_MM,
      y: map.y + EDGE_MM,
      width: map.width - 2 * EDGE_MM,
      height: map.height - 2 * EDGE_MM,
    };
    for (const rect of taken) this.take(boxOfRect(rect));
  }

  /** Wholly within the neat line, and on nothing taken. */
  isFree(box: LabelBox): boolean {
    const { x, y, width, height } = rectOf(box);
    const room = this.#room;
    if (x < room.x || y < room.y || x + width > room.x + room.width || y + height > room.y + room.height)
      return false;
    return this.#keys(box).every((key) => !this.#cells.get(key)?.some((other) => boxesOverlap(box, other)));
  }

  take(box: LabelBox): void {
    for (const key of this.#keys(box)) {
      const cell = this.#cells.get(key);
      if (cell) cell.push(box);
      else this.#cells.set(key, [box]);
    }
  }

  #keys(box: LabelBox): string[] {
    const { x, y, width, height } = rectOf(box);
    const keys: string[] = [];
    for (let c = Math.floor(x / CELL_MM); c <= Math.floor((x + width) / CELL_MM); c++)
      for (let r = Math.floor(y / CELL_MM); r <= Math.floor((y + height) / CELL_MM); r++)
        keys.push(`${c} ${r}`);
    return keys;
  }
}
