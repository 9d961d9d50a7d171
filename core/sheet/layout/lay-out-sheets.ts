/** A walk cut into sheets. */
import { Fault } from "../../fault.ts";
import type { LonLat } from "../../units/position.ts";
import type { LayoutWish, SheetLayout } from "./sheet-plan.ts";

/**
 * @param points of the walk, in order
 * @throws Fault "bad-argument" when there is neither a walk nor a place for a sheet
 */
export function layOutSheets(points: readonly LonLat[], wish: LayoutWish): SheetLayout {
  const centre = points[0] ?? wish.place;
  if (!centre) throw new Fault("bad-argument", "There is no walk and no place for a sheet.");
  return {
    sheets: [
      { number: 1, frame: { centre, scale: wish.scale, map: wish.map }, legs: [], continues: [], notes: [] },
    ],
    scale: wish.scale,
    zone: null,
    notes: [],
  };
}
