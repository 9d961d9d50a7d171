/** Shows the whole walk or the whole map in the part of the window that no panel covers. */
import { effect } from "@preact/signals";
import type { LngLatBoundsLike, Map as MapLibreMap } from "maplibre-gl";
import { bboxesMeet, bboxOf } from "../../core/units/position.ts";
import type { MapView } from "../../electron/contract.ts";
import { host } from "../host/host.ts";
import { shownMap } from "../map-case/map-case.ts";
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
  const bounds = shownMap.peek()?.info.bounds;
  if (bounds) fit(map, [bounds[0], bounds[1], bounds[2], bounds[3]]);
}

function fit(map: MapLibreMap, box: LngLatBoundsLike): void {
  map.fitBounds(box, { padding: freePadding(), maxZoom: CLOSEST, animate: false });
}

/**
 * A walk just opened is shown whole; a map just opened that the walk is not on as it was last looked at, else whole; edits
 * never move the view. Where a map is looked at is remembered.
 */
export function keepWholeWalkInView(map: MapLibreMap): () => void {
  let shownDocument = -1;
  let lastMap: string | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const stop = effect(() => {
    const number = documentNumber.value;
    const open = shownMap.value;
    if (number === shownDocument && open?.id === lastMap) return;
    const isNew = open !== null && open.id !== lastMap;
    const view = isNew ? lastViewOf(open) : null;
    shownDocument = number;
    lastMap = open?.id ?? null;
    // After the panels have taken their places.
    requestAnimationFrame(() => {
      const box = bboxOf(walk.peek().points.map((point) => point.lonLat));
      if (box && !(isNew && !bboxesMeet(box, open.info.bounds))) showWholeWalk(map);
      else if (view) map.jumpTo({ center: [view.lonLat[0], view.lonLat[1]], zoom: view.zoom });
      else showWholeMap(map);
    });
  });
  const keep = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      const open = shownMap.peek();
      if (!open) return;
      const { lng, lat } = map.getCenter();
      // A view that cannot be kept costs nothing but the view.
      void host.keepMapView(open.id, { lonLat: [lng, lat], zoom: map.getZoom() }).catch(() => undefined);
    }, CALM_MS);
  };
  map.on("moveend", keep);
  return () => {
    clearTimeout(timer);
    map.off("moveend", keep);
    stop();
  };
}

const CALM_MS = 1000;

/** Where a map was last looked at, unless its file is another's now. */
function lastViewOf({ entry, info }: NonNullable<typeof shownMap.value>): MapView | null {
  const view = entry?.view ?? null;
  if (!view) return null;
  const [lon, lat] = view.lonLat;
  return bboxesMeet([lon, lat, lon, lat], info.bounds) ? view : null;
}
