/**
 * A walk cut into sheets. Every place of the walk lies at least half the overlap within the neat line of some sheet; so where
 * the walk goes from one sheet to the next, both show the ground around by the whole overlap.
 */
import { Fault } from "../../fault.ts";
import { utmZoneOf } from "../../geodesy/utm-zone.ts";
import { bboxesMeet, type Bbox, type LonLat } from "../../units/position.ts";
import { sheetFrame } from "../frame/sheet-frame.ts";
import { continuations, depthMm, type LaidSheet } from "./continues.ts";
import type { LayoutWish, SheetLayout, SheetPlan } from "./sheet-plan.ts";
import { middleOfPath, type PathPiece, walkPath } from "./walk-path.ts";
import { type Wanted, wantedSheets } from "./wanted-sheets.ts";

/**
 * @param points of the walk, in order
 * @throws Fault "bad-argument" when there is neither a walk nor a place for a sheet, for an overlap as wide as the sheet, or
 *   for more than 200 sheets; "out-of-range" for a walk that fits on no page
 */
export function layOutSheets(points: readonly LonLat[], wish: LayoutWish): SheetLayout {
  const path = walkPath(points);
  const middle = middleOfPath(path) ?? points[0] ?? wish.place ?? middleOf(wish.mapBounds);
  if (!middle)
    throw new Fault(
      "bad-argument",
      "There is no walk and no place for a sheet.",
      null,
      "Draw a walk, open a map or give a place.",
    );
  const zone = wish.grid ? null : utmZoneOf(middle);
  const plan = wantedSheets(path, middle, zone, wish);
  const sheets = plan.wanted.map(({ wish: frame, legs }): LaidSheet => ({ frame: sheetFrame(frame), legs }));
  const notes = [...plan.notes];
  if (new Set(plan.wanted.map(({ wish: w }) => w.zone)).size > 1)
    notes.push("The walk is too wide for the grid of one zone: its sheets have grids of several zones.");
  notes.push(...unshown(path, sheets));
  return {
    sheets: sheets.map((_, i) => planOf(path, sheets, plan.wanted, i, wish.mapBounds ?? null)),
    scale: plan.scale,
    zone: zone === 0 ? null : zone,
    notes,
  };
}

const middleOf = (box: Bbox | null | undefined): LonLat | null =>
  box ? [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2] : null;

/** Positions along a piece, its ends among them, about a hundredth of a sheet apart. */
function* stations({ from, to }: PathPiece): Generator<LonLat> {
  for (let i = 0; i <= 50; i++) {
    const t = i / 50;
    const across = to[0] - from[0];
    // A piece across ±180° has its ends only.
    if (Math.abs(across) > 180 && i > 0 && i < 50) continue;
    yield i === 50 ? to : [from[0] + across * t, from[1] + (to[1] - from[1]) * t];
  }
}

/** Legs of which a part lies on no sheet, in a sentence: only frames placed by hand leave any. */
function unshown(path: readonly PathPiece[], sheets: readonly LaidSheet[]): string[] {
  const legs = new Set<number>();
  for (const piece of path) {
    if (legs.has(piece.leg)) continue;
    for (const place of stations(piece))
      if (!sheets.some(({ frame }) => depthMm(frame, place) >= 0)) {
        legs.add(piece.leg);
        break;
      }
  }
  if (legs.size === 0) return [];
  const list = [...legs];
  const named =
    list.length > 8 ? `${list.slice(0, 8).join(", ")} and ${list.length - 8} more` : list.join(", ");
  return [`Part of ${list.length === 1 ? "leg" : "legs"} ${named} lies on no sheet.`];
}

function planOf(
  path: readonly PathPiece[],
  sheets: readonly LaidSheet[],
  wanted: readonly Wanted[],
  i: number,
  bounds: Bbox | null,
): SheetPlan {
  const { frame, legs: own } = sheets[i] as LaidSheet;
  const on = new Set<number>();
  let offMap = false;
  for (const piece of path) {
    if (own && !own.includes(piece.leg)) continue;
    for (const place of stations(piece)) {
      if (depthMm(frame, place) < 0) continue;
      on.add(piece.leg);
      if (bounds && !holds(bounds, place)) offMap = true;
      if (!bounds || offMap) break;
    }
  }
  const notes: string[] = [];
  if (bounds && !bboxesMeet(bounds, frame.bbox))
    notes.push("This sheet lies off the map: only grid and walk are drawn.");
  else if (offMap) notes.push("The walk runs off the map on this sheet: only grid and walk are drawn there.");
  return {
    number: i + 1,
    frame: (wanted[i] as Wanted).wish,
    legs: own ?? [...on].sort((a, b) => a - b),
    continues: continuations(path, sheets, i),
    notes,
  };
}

const holds = ([west, south, east, north]: Bbox, [lon, lat]: LonLat): boolean =>
  lon >= west && lon <= east && lat >= south && lat <= north;
