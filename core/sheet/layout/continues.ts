/** Where the walk leaves or enters a sheet, and on which sheet it is to be found there. */
import type { Continuation } from "../furniture/continue-arrows.ts";
import { clipSegment, edgeAt } from "../furniture/clip-paper.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { type Bbox, bboxesMeet, bboxOf, type LonLat } from "../../units/position.ts";
import type { PathPiece } from "./walk-path.ts";

/** A sheet laid out, and the legs it is for: all where null. */
export interface LaidSheet {
  readonly frame: SheetFrame;
  readonly legs: readonly number[] | null;
}

/** Two crossings nearer than this lead to one arrow, millimetres. */
const ONE_MM = 6;

/** How far within the neat line a place lies, millimetres; 0 or less outside and on it, −Infinity far off. */
export function depthMm(frame: SheetFrame, lonLat: LonLat): number {
  const { map, bbox } = frame;
  const [west, south, east, north] = bbox;
  const [lon, lat] = lonLat;
  // Most sheets of a long walk are far off: told without projecting.
  if (lon < west || lon > east || lat < south || lat > north) return -Infinity;
  const [x, y] = frame.toPaper(lonLat);
  return Math.min(x - map.x, map.x + map.width - x, y - map.y, map.y + map.height - y);
}

/** Arrows of one sheet, in order of walking. */
export function continuations(
  path: readonly PathPiece[],
  sheets: readonly LaidSheet[],
  i: number,
): Continuation[] {
  const { frame } = sheets[i] as LaidSheet;
  const found: Continuation[] = [];
  for (const { leg, from, to } of path) {
    if (!bboxesMeet(frame.bbox, bboxOf([from, to]) as Bbox)) continue;
    const [a, b] = [frame.toPaper(from), frame.toPaper(to)];
    const cut = clipSegment([...a, ...b], frame.map);
    if (!cut) continue;
    const [ax, ay, bx, by] = cut;
    const ends = [
      [ax, ay, a],
      [bx, by, b],
    ] as const;
    for (const [x, y, end] of ends) {
      // Where the piece goes on beyond the neat line.
      const edge = x === end[0] && y === end[1] ? null : edgeAt(x, y, frame.map);
      if (!edge) continue;
      const sheet = sheetAt(frame.toLonLat([x, y]), leg, sheets, i);
      if (sheet === null) continue;
      const same = (c: Continuation): boolean =>
        c.sheet === sheet && c.edge === edge && Math.hypot(c.at[0] - x, c.at[1] - y) < ONE_MM;
      if (!found.some(same)) found.push({ at: [x, y], edge, sheet });
    }
  }
  return found;
}

/** Number of the other sheet that shows the place furthest from its edges; null when none does. */
function sheetAt(place: LonLat, leg: number, sheets: readonly LaidSheet[], but: number): number | null {
  let best: { readonly number: number; readonly depth: number } | null = null;
  for (const [j, { frame, legs }] of sheets.entries()) {
    if (j === but || (legs && !legs.includes(leg))) continue;
    const depth = depthMm(frame, place);
    if (depth > 0 && (!best || depth > best.depth)) best = { number: j + 1, depth };
  }
  return best?.number ?? null;
}
