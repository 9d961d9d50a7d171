/** One click on the map answers a field of the slip instead of giving a point of the walk. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { picking } from "./fix-state.ts";

/** A press that moved farther than this was a pull of the map, pixels. */
const STILL_PX = 4;

export function pickOnMap(map: MapLibreMap): () => void {
  const holder = map.getCanvasContainer();
  let pressed: { readonly x: number; readonly y: number } | null = null;

  const onPress = ({ clientX: x, clientY: y }: PointerEvent): void => void (pressed = { x, y });
  // Before MapLibre hears of it: else the click would add a point to the walk.
  const onClick = (event: MouseEvent): void => {
    const waiting = picking.value;
    if (!waiting) return;
    event.stopPropagation();
    event.preventDefault();
    if (pressed && Math.hypot(event.clientX - pressed.x, event.clientY - pressed.y) > STILL_PX) return;
    const box = map.getCanvas().getBoundingClientRect();
    const { lng, lat } = map.unproject([event.clientX - box.left, event.clientY - box.top]).wrap();
    picking.value = null;
    waiting.take([lng, lat]);
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== "Escape" || picking.value === null) return;
    event.stopPropagation();
    picking.value = null;
  };

  holder.addEventListener("pointerdown", onPress, true);
  holder.addEventListener("click", onClick, true);
  window.addEventListener("keydown", onKey, true);
  return () => {
    holder.removeEventListener("pointerdown", onPress, true);
    holder.removeEventListener("click", onClick, true);
    window.removeEventListener("keydown", onKey, true);
  };
}
