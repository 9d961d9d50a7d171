/** Which side of a contour is higher, from the contours beside it. */
import Flatbush from "flatbush";
import type { PaperLine } from "./map-sheet.ts";

/** 1 when the ground is higher to the left of a direction, −1 to its right, 0 when the contours do not tell. */
export type UphillSide = (x: number, y: number, dx: number, dy: number, elevationM: number) => -1 | 0 | 1;

/** How far a neighbouring contour is looked for, millimetres. */
const REACH_MM = 12;

export function uphillBy(contours: readonly PaperLine[]): UphillSide {
  const [ends, heights]: [number[], number[]] = [[], []];
  for (const { feature, parts } of contours)
    for (const part of parts)
      for (let i = 2; i < part.length; i += 2) {
        ends.push(part[i - 2] as number, part[i - 1] as number, part[i] as number, part[i + 1] as number);
        heights.push(feature.elevationM);
      }
  if (heights.length === 0) return () => 0;
  const index = new Flatbush(heights.length);
  for (let i = 0; i < ends.length; i += 4) {
    const [ax, ay, bx, by] = ends.slice(i, i + 4) as [number, number, number, number];
    index.add(Math.min(ax, bx), Math.min(ay, by), Math.max(ax, bx), Math.max(ay, by));
  }
  index.finish();

  /** Height of the first other contour in a direction. */
  const towards = (x: number, y: number, ex: number, ey: number, own: number): number => {
    let [nearest, height] = [Infinity, Number.NaN];
    const [tx, ty] = [x + ex * REACH_MM, y + ey * REACH_MM];
    for (const k of index.search(Math.min(x, tx), Math.min(y, ty), Math.max(x, tx), Math.max(y, ty))) {
      if (Math.abs((heights[k] as number) - own) < 1e-6) continue;
      const [ax, ay, bx, by] = ends.slice(4 * k, 4 * k + 4) as [number, number, number, number];
      const [sx, sy] = [bx - ax, by - ay];
      const cross = ex * sy - ey * sx;
      if (cross === 0) continue;
      const t = ((ax - x) * sy - (ay - y) * sx) / cross;
      const u = ((ax - x) * ey - (ay - y) * ex) / cross;
      if (t > 0 && t < nearest && u >= 0 && u <= 1) [nearest, height] = [t, heights[k] as number];
    }
    return height;
  };
  return (x, y, dx, dy, own) => {
    const left = towards(x, y, dy, -dx, own);
    const right = towards(x, y, -dy, dx, own);
    const [l, r] = [Math.sign(left - own), Math.sign(right - own)];
    if (l === 1 && r !== 1) return 1;
    if (r === 1 && l !== 1) return -1;
    if (l === -1 && r !== -1) return -1;
    return r === -1 && l !== -1 ? 1 : 0;
  };
}
