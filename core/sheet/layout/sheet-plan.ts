/** How a walk is cut into sheets: what is asked for, and one plan for each sheet. */
import type { Grid } from "../../geodesy/grid.ts";
import type { UtmZone } from "../../geodesy/utm-zone.ts";
import type { Bbox, LonLat } from "../../units/position.ts";
import type { Continuation } from "../furniture/continue-arrows.ts";
import type { FrameWish } from "../frame/sheet-frame.ts";
import type { Rect } from "../page/page.ts";

/** A frame the person has placed by hand. */
export interface PlacedFrame {
  readonly centre: LonLat;
  readonly scale?: number;
  readonly turnDeg?: number;
}

/** How sheets are found. */
export type LayoutWay =
  /** As few sheets at `scale` as hold the walk, grid north up. */
  | { readonly kind: "cover" }
  /** One sheet: the largest usual scale at which the walk fits, or the exact one. */
  | { readonly kind: "fit"; readonly exact?: boolean }
  /** A sheet a leg, the leg running up the page or grid north up. */
  | { readonly kind: "strips"; readonly up: "leg" | "north" }
  | { readonly kind: "placed"; readonly frames: readonly PlacedFrame[] };

export interface LayoutWish {
  readonly way: LayoutWay;
  /** Denominator; with "fit" it is found and this one is not used. */
  readonly scale: number;
  /** The neat line, from `sheetRoom`. */
  readonly map: Rect;
  /** Least ground that both sheets show where the walk goes from one to the next, millimetres of paper. Default 15. */
  readonly overlapMm?: number;
  /** The user's grid; default UTM, or UPS at the poles. */
  readonly grid?: Grid;
  /** What the map covers; null or absent when it is not known. */
  readonly mapBounds?: Bbox | null;
  /** Centre of the one sheet of a walk without points; default the middle of the map. */
  readonly place?: LonLat;
}

export interface SheetPlan {
  /** From 1. */
  readonly number: number;
  /** For `sheetFrame`. */
  readonly frame: FrameWish;
  /** Legs with any part on this sheet, counted from 1. */
  readonly legs: readonly number[];
  /** Where the walk goes on to another sheet. */
  readonly continues: readonly Continuation[];
  /** Of this sheet: the walk runs off the map, and the like, in sentences. */
  readonly notes: readonly string[];
}

export interface SheetLayout {
  readonly sheets: readonly SheetPlan[];
  readonly scale: number;
  /** Zone shared by all sheets; null for UPS and the user's grid. */
  readonly zone: UtmZone | null;
  /** What a person should know before printing, in sentences. */
  readonly notes: readonly string[];
}
