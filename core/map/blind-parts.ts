/** Where a map cannot answer: outside its bounds, and tiles it lacks or that are damaged. */
import type { Bbox } from "../units/position.ts";
import type { DecodedTile } from "./decode-tile.ts";
import type { Blind } from "./features.ts";
import { intersectBbox, tileBbox, type TileRange } from "./tile-grid.ts";

/** Bounds in an archive's header are rounded to 1e-7°: a centimetre. */
const HEADER_PRECISION = 1e-7;

/** The parts of a box outside another: up to four boxes that do not overlap. */
export function outsideOf(box: Bbox, bounds: Bbox): Bbox[] {
  const inner = intersectBbox(box, bounds);
  if (!inner) return [box];
  const [west, south, east, north] = inner;
  const parts: Bbox[] = [];
  if (south - box[1] > HEADER_PRECISION) parts.push([box[0], box[1], box[2], south]);
  if (box[3] - north > HEADER_PRECISION) parts.push([box[0], north, box[2], box[3]]);
  if (west - box[0] > HEADER_PRECISION) parts.push([box[0], south, west, north]);
  if (box[2] - east > HEADER_PRECISION) parts.push([east, south, box[2], north]);
  return parts;
}

export function blindParts(
  box: Bbox,
  bounds: Bbox,
  range: TileRange,
  tileAt: (x: number, y: number) => DecodedTile | undefined,
): Blind[] {
  const blind: Blind[] = outsideOf(box, bounds).map((bbox) => ({ bbox, reason: "outside" }));
  const inside = intersectBbox(box, bounds);
  if (!inside) return blind;
  for (let y = range.y0; y <= range.y1; y++)
    for (let x = range.x0; x <= range.x1; x++) {
      const state = tileAt(x, y)?.state ?? "missing";
      const bbox = state === "read" ? null : intersectBbox(tileBbox({ z: range.z, x, y }), inside);
      if (bbox && state !== "read" && !onlyTouches(bbox, inside)) blind.push({ bbox, reason: state });
    }
  return blind;
}

/** A box of a leg due north is a line and meets tiles in lines; a wider one only touches what it meets in a line. */
function onlyTouches(part: Bbox, whole: Bbox): boolean {
  return (part[0] === part[2] && whole[0] < whole[2]) || (part[1] === part[3] && whole[1] < whole[3]);
}
