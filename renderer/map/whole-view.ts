/** Shows the whole walk or the whole map in the part of the window that no panel covers. */
import { effect } from "@preact/signals";
import type { LngLatBoundsLike, Map as MapLibreMap } from "maplibre-gl";
import { bboxOf } from "../../core/units/position.ts";
import { openMap } from "../map-case/map-case.ts";
import { documentNumber, walk } from "../walk-state/walk-document.ts";

/** Panels cover the edges of the map: what they leave free, pixels from each side. */
export function freePadding(): { top: number; right: number; bottom: number; left: number } {
  const { innerWidth, innerHeight } = window;
  const free = document.querySelector(".free-map")?.getBoundingClientRect();
  const pad = 24;
  if (!free || free.width < 80 || free.height < 80) return { top: pad, right: pad, bottom: pad, left: pad };
  return {
    // Flags stand above their points.
    top: free.top + pad + 20,
    left: free.left + pad,
    right: innerWidth - free.right + pad,
    bottom: innerHeight - free.bottom + pad,
  };
}

const CLOSEST = 15.5;

export function showWholeWalk(map: MapLibreMap): void {
  const box = bboxOf(walk.peek().points.map((point) => point.lonLat));
  if (!box) return showWholeMap(map);
  fit(map, [box[0], box[1], box[2], box[3]]);
}

export function showWholeMap(map: MapLibreMap): void {
  const bounds = openMap.peek()?.info.bounds;
  if (bounds) fit(map, [bounds[0], bounds[1], bounds[2], bounds[3]]);
}

function fit(map: MapLibreMap, box: LngLatBoundsLike): void {
  map.fitBounds(box, { padding: freePadding(), maxZoom: CLOSEST, animate: false });
}

/** A walk just opened is shown whole, a map just opened too when the walk is not on it; edits never move the view. */
export function keepWholeWalkInView(map: MapLibreMap): () => void {
  let shownDocument = -1;
  let shownMap: string | null = null;
  return effect(() => {
    const number = documentNumber.value;
    const open = openMap.value;
    if (number === shownDocument && open?.opened.id === shownMap) return;
    shownDocument = number;
    shownMap = open?.opened.id ?? null;
    // After the panels have taken their places.
    requestAnimationFrame(() => (walk.peek().points.length > 0 ? showWholeWalk(map) : showWholeMap(map)));
  });
}
