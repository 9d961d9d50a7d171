/** The walk over the map: legs, points, numbers, and the aids asked for. */
import type { SheetFrame } from "../frame/sheet-frame.ts";
import type { PageItem, Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { SheetWalk, WalkWish } from "./sheet-walk.ts";

export interface DrawnWalk {
  readonly items: readonly PageItem[];
  /** Boxes that the map's names must keep free. */
  readonly taken: readonly Rect[];
  readonly notes: readonly string[];
}

export function drawWalk(
  _walk: SheetWalk,
  _frame: SheetFrame,
  _wish: WalkWish,
  _ruler: TextRuler,
): DrawnWalk {
  return { items: [], taken: [], notes: [] };
}
