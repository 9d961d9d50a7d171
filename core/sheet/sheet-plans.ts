/** The sheets of a walk as wished for: the same for the pages and for the outlines on the map. */
import type { Grid } from "../geodesy/grid.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import { roamerMm } from "./furniture/roamer.ts";
import { type SheetRoom, sheetRoom } from "./furniture/sheet-room.ts";
import { layOutSheets } from "./layout/lay-out-sheets.ts";
import type { LayoutWay, SheetLayout } from "./layout/sheet-plan.ts";
import { type PaperSize, paperSize } from "./page/paper-size.ts";
import type { PrintWish } from "./sheet-job.ts";

export interface SheetPlans {
  readonly paper: PaperSize;
  readonly room: SheetRoom;
  readonly layout: SheetLayout;
}

type LayoutChoices = Pick<PrintWish, "paper" | "landscape" | "scale" | "way" | "up" | "frames" | "roamer">;

/**
 * @param points of the walk, in order; none gives one sheet in the middle of the map
 * @param mapBounds null without a map
 * @throws Fault as `sheetRoom` and `layOutSheets`
 */
export function sheetPlans(
  points: readonly LonLat[],
  wish: LayoutChoices,
  mapBounds: Bbox | null,
  grid: Grid | null,
): SheetPlans {
  const paper = paperSize(wish.paper, wish.landscape);
  // With "fit" the scale, and so the roamer, is known only when the room is: then it has a page of its own.
  const inMargin = wish.roamer && (wish.way !== "fit" || wish.frames !== null);
  const room = sheetRoom(paper, { roamerMm: inMargin ? roamerMm(wish.scale) : null });
  const layout = layOutSheets(points, {
    way: wayOf(wish),
    scale: wish.scale,
    map: room.map,
    mapBounds,
    ...(grid && { grid }),
  });
  return { paper, room, layout };
}

function wayOf({ way, up, frames }: LayoutChoices): LayoutWay {
  if (frames) return { kind: "placed", frames };
  return way === "strips" ? { kind: "strips", up } : { kind: way };
}
