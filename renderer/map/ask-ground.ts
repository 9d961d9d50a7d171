/** A right click, a long press or the context key on the map asks what the ground there is. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { openMap } from "../map-case/map-case.ts";
import { askGroundAt, askGroundAtPoint } from "../place/place-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { middleOfMap } from "./keyboard-draw.ts";

export function askWithPointer(map: MapLibreMap): () => void {
  const holder = map.getCanvasContainer();

  const onMenu = (event: MouseEvent): void => {
    event.preventDefault();
    if (!openMap.value) return;
    // The context key has no button, and its place is not the cross's.
    const byKeyboard = event.button !== 2 && (event as PointerEvent).pointerType !== "touch";
    const flag = event.target instanceof Element ? event.target.closest<HTMLElement>(".flag") : null;
    const point = flag && walk.value.points[Number(flag.dataset["index"])];
    if (point) return askGroundAtPoint(point.id, byKeyboard);
    const middle = byKeyboard ? middleOfMap() : null;
    if (middle) return askGroundAt(middle, true);
    const box = map.getCanvas().getBoundingClientRect();
    const { lng, lat } = map.unproject([event.clientX - box.left, event.clientY - box.top]).wrap();
    askGroundAt([lng, lat], false);
  };

  holder.addEventListener("contextmenu", onMenu);
  return () => holder.removeEventListener("contextmenu", onMenu);
}
