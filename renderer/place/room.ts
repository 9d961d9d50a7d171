/** The part of the map that no panel covers, in the map's own pixels. */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { Box } from "./fan-layout.ts";

const boxOf = (element: Element | null, map: MapLibreMap): Box | null => {
  if (!element) return null;
  const canvas = map.getCanvas().getBoundingClientRect();
  const { left, top, right, bottom } = element.getBoundingClientRect();
  return { x0: left - canvas.left, y0: top - canvas.top, x1: right - canvas.left, y1: bottom - canvas.top };
};

export const freeRoom = (map: MapLibreMap): Box | null => boxOf(document.querySelector(".free-map"), map);

/** Slips that lie on the free part, and the flags. */
export const onFreeRoom = (map: MapLibreMap): Box[] =>
  [...document.querySelectorAll(".place-slip, .find-slip, .slope-legend, .notice, .flag-casing")].flatMap(
    (element) => boxOf(element, map) ?? [],
  );
