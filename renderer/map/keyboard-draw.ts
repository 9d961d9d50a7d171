/** Drawing by keyboard: with the map focused a cross stands in its middle, and Enter puts a point under it. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { shownMap } from "../map-case/map-case.ts";
import { addPointAt } from "./draw.ts";
import { caughtPlace, lookForCatch } from "./snapping.ts";
import type { LonLat } from "../../core/units/position.ts";
import { crossShown, mapView, pointer } from "./view-state.ts";

export function drawWithKeyboard(map: MapLibreMap): () => void {
  const canvas = map.getCanvas();

  const follow = (): void => {
    if (!crossShown.value) return;
    const { lng, lat } = middle(map);
    pointer.value = [lng, lat];
    lookForCatch([lng, lat], false);
  };
  const onFocus = (): void => {
    // A click focuses the canvas too; the cross is for those who came by keyboard.
    crossShown.value = canvas.matches(":focus-visible");
    follow();
  };
  const onBlur = (): void => {
    crossShown.value = false;
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key.startsWith("Arrow") && !crossShown.value) {
      crossShown.value = true;
      follow();
    }
    if (event.key !== "Enter" || !shownMap.value) return;
    event.preventDefault();
    crossShown.value = true;
    const { lng, lat } = middle(map);
    addPointAt(event.shiftKey ? [lng, lat] : caughtPlace([lng, lat]));
  };

  canvas.addEventListener("focus", onFocus);
  canvas.addEventListener("blur", onBlur);
  canvas.addEventListener("keydown", onKey);
  map.on("move", follow);
  return () => {
    canvas.removeEventListener("focus", onFocus);
    canvas.removeEventListener("blur", onBlur);
    canvas.removeEventListener("keydown", onKey);
    map.off("move", follow);
  };
}

/** The middle of the part of the map that no panel covers; the cross is drawn there too. */
export function middlePixel(map: MapLibreMap): { readonly x: number; readonly y: number } {
  const { clientWidth, clientHeight } = map.getCanvas();
  const { left = 0, right = 0, top = 0, bottom = 0 } = map.getPadding();
  return { x: (left + clientWidth - right) / 2, y: (top + clientHeight - bottom) / 2 };
}

/** The place under the keyboard's cross; null without a map on the page. */
export function middleOfMap(): LonLat | null {
  const map = mapView.peek();
  if (!map) return null;
  const { lng, lat } = middle(map);
  return [lng, lat];
}

function middle(map: MapLibreMap): { readonly lng: number; readonly lat: number } {
  const { x, y } = middlePixel(map);
  return map.unproject([x, y]).wrap();
}
