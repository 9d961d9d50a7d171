/** Where a map cannot answer: outside its bounds, and tiles it lacks or that are damaged. */
import type { Bbox } from "../units/position.ts";
import type { DecodedTile } from "./decode-tile.ts";
import type { Blind } from "./features.ts";
import { intersectBbox, tileBbox, type TileRange } from "./tile-grid.ts";

/** The parts of a box outside another: up to four boxes that do not overlap. */
export function outsideOf(box: Bbox, bounds: Bbox): Bbox[] {
  const inner = intersectBbox(box, bounds);
  if (!inner) return [box];
  const [west, south, east, north] = inner;
  const parts: Bbox[] = [
    [box[0], box[1], box[2], south],
    [box[0], north, box[2], box[3]],
    [box[0], south, west, north],
    [east, south, box[2], north],
  ];
  return parts.filter((p) => p[0] < p[2] && p[1] < p[3]);
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
      if (bbox && state !== "read" && bbox[0] < bbox[2] && bbox[1] < bbox[3])
        blind.push({ bbox, reason: state });
    }
  return blind;
}
