/** Whether a leg goes into an area or out of it where it crosses the edge. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { AreaFeature, MapFeatures } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../units/position.ts";

/** Areas by the kind of their edge. */
const AREA_OF: Partial<Record<Kind, Kind>> = { woodEdge: "wood", shore: "water", restricted: "restricted" };
/** Looked at so far before and after the crossing, metres. No source. */
const STEP_M = 2;

/** Null where the areas do not tell: no area there, or the leg touches the edge only. */
export type EntersAt = (edge: Kind, atM: number) => boolean | null;

/** Asks the map for areas around each crossing of an edge; nothing else is looked at. */
export function entersAt(frame: LegFrame, map: MapFeatures): EntersAt {
  return (edge, atM) => {
    const area = AREA_OF[edge];
    if (!area) return null;
    const before = isIn(map, area, frame.toLonLat(atM - STEP_M, 0));
    const after = isIn(map, area, frame.toLonLat(atM + STEP_M, 0));
    return before === after ? null : after;
  };
}

function isIn(map: MapFeatures, kind: Kind, lonLat: LonLat): boolean {
  const box = growBbox(bboxOf([lonLat]) as Bbox, 1);
  if (!map.isPrepared(box)) return false;
  return map.areas(box, new Set([kind])).some((area) => inArea(area, lonLat));
}

/** By the even-odd rule over all rings, holes included. */
function inArea({ rings }: AreaFeature, [x, y]: LonLat): boolean {
  let inside = false;
  for (const ring of rings)
    for (let i = 2; i < ring.length; i += 2) {
      const [x0, y0, x1, y1] = [ring[i - 2]!, ring[i - 1]!, ring[i]!, ring[i + 1]!];
      if (y0 > y !== y1 > y && x < x0 + ((x1 - x0) * (y - y0)) / (y1 - y0)) inside = !inside;
    }
  return inside;
}
