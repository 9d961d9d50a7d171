/** Everything on a field sheet that is not the map's content. */
import type { DeclinationFigure } from "../../legs/figures.ts";
import type { MapInfo } from "../../map/metadata.ts";
import type { WalkPace } from "../../walk/walk.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { lineShape, type PageItem, type Rect, rectShape } from "../page/page.ts";
import type { TextRuler } from "../page/text-ruler.ts";
import type { SheetRoom } from "./sheet-room.ts";

/** What a sheet is told to show besides the map. Everything absent takes the usual. */
export interface FurnitureWish {
  /** Grid lines: metres between them, "auto" by the scale, null for none. Default "auto". */
  readonly gridStepM?: number | "auto" | null;
  /** Where two zones meet on the sheet: each with its own grid, or the sheet's own carried on. Default "neighbour". */
  readonly zoneJoin?: "neighbour" | "carryOn";
  /** Ticks of latitude and longitude. Default true. */
  readonly degreeTicks?: boolean;
  /** Lines of magnetic north: millimetres between them; null, the default, for none. */
  readonly magneticLinesMm?: number | null;
  /** Which unit's bar comes first. Default "metric". */
  readonly lengths?: "metric" | "imperial";
}

/** A place in the margin where the walk goes on to another sheet. */
export interface Continuation {
  /** On the neat line, millimetres on the page. */
  readonly at: readonly [xMm: number, yMm: number];
  readonly edge: "left" | "right" | "top" | "bottom";
  readonly sheet: number;
}

export interface FurnitureInput {
  readonly frame: SheetFrame;
  readonly room: SheetRoom;
  readonly ruler: TextRuler;
  readonly title: string;
  readonly sheet: number;
  readonly sheets: number;
  /** Null without a map. */
  readonly map: Pick<
    MapInfo,
    "title" | "interval" | "source" | "date" | "attribution" | "datum" | "invented"
  > | null;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** At the sheet's centre, by the walk's choice of model or printed map: `sheetDeclination`. */
  readonly declination: DeclinationFigure;
  readonly pace: Pick<WalkPace, "per100m" | "steps">;
  readonly continues?: readonly Continuation[];
  readonly wish?: FurnitureWish;
}

export interface Furniture {
  /** Outside the neat line, and the line itself. */
  readonly around: readonly PageItem[];
  /** Grid and magnetic lines with what marks them, within the neat line. */
  readonly over: readonly PageItem[];
  /** Boxes within the neat line that names must keep free. */
  readonly taken: readonly Rect[];
  /** What a person should know of this sheet, in sentences: two zones, a declination that differs across it. */
  readonly notes: readonly string[];
}

/** The furniture of one sheet. */
export function sheetFurniture(input: FurnitureInput): Furniture {
  const { room } = input;
  return {
    around: [
      { kind: "shape", shape: rectShape(room.map), stroke: { ink: "#000000", widthMm: 0.25 } },
      { kind: "shape", shape: lineShape([room.scale.x, room.scale.y], [room.scale.x, room.scale.y]) },
    ],
    over: [],
    taken: [],
    notes: [],
  };
}
