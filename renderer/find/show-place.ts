/** Brings a place into the part of the map that neither the panels nor the find slip cover. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { freePadding } from "../map/whole-view.ts";
import { squareRing } from "./place-square.ts";
import type { Understood } from "./understand.ts";

/** Nearer than this one sees the paths around a place. */
const CLOSE_ENOUGH = 14;
/** Less than this shows no place: then it is shown as if the slip were not there. */
const LEAST_ROOM_PX = 60;

export function showPlace(map: MapLibreMap, place: Understood): void {
  const ring = squareRing(place.lonLat, place.precisionM);
  const lons = ring.map(([lon]) => lon);
  const lats = ring.map(([, lat]) => lat);
  map.fitBounds([Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats)], {
    padding: roomBesideSlip(),
    // Never farther away than one was, but for a square that would not fit.
    maxZoom: Math.max(map.getZoom(), CLOSE_ENOUGH),
    animate: false,
  });
}

/** A slip lies in the left of the free map: what is left beside it or above it, whichever is more. */
export function roomBesideSlip(name = "find-slip"): ReturnType<typeof freePadding> {
  const padding = freePadding();
  const slip = document.querySelector(`.${name}`)?.getBoundingClientRect();
  if (!slip) return padding;
  const gap = 16;
  const width = innerWidth - padding.right - (slip.right + gap);
  const height = slip.top - gap - padding.top;
  const beside = width * (innerHeight - padding.top - padding.bottom);
  const above = height * (innerWidth - padding.left - padding.right);
  if (Math.max(width, height) < LEAST_ROOM_PX) return padding;
  return beside >= above
    ? { ...padding, left: Math.max(padding.left, slip.right + gap) }
    : { ...padding, bottom: Math.max(padding.bottom, innerHeight - slip.top + gap) };
}
