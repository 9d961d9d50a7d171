/** The map of a field sheet, from the map's own tiles. */
import type { MapFeatures } from "../../map/features.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { type PageItem, type Rect } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { MapWish } from "./map-look.ts";

export interface DrawnMap {
  readonly items: readonly PageItem[];
  /** What a person should know before printing it, in sentences. */
  readonly notes: readonly string[];
}

/**
 * @param ground prepared for `frame.bbox` by the caller
 * @param keepFree boxes on the page where no name may stand: the walk's labels, the furniture over the map
 */
export function drawMap(
  _ground: MapFeatures,
  _frame: SheetFrame,
  _wish: MapWish,
  _ruler: TextRuler,
  _keepFree: readonly Rect[],
): DrawnMap {
  return { items: [], notes: [] };
}
