/** One click on the map, or Enter under its cross, answers a field of the slip instead of giving a point of the walk. */
import type { Map as MapLibreMap } from "maplibre-gl";
import { middleOfMap } from "../map/keyboard-draw.ts";
import { mapView } from "../map/view-state.ts";
import { type Picking, picking } from "./fix-state.ts";

/** A press that moved farther than this was a pull of the map, pixels. */
const STILL_PX = 4;

/** @param byKeyboard the keys go to the map then, whose cross picks */
export function startPicking(pick: Picking, byKeyboard: boolean): void {
  picking.value = pick;
  if (byKeyboard) mapView.peek()?.getCanvas().focus();
}

/** Whoever picked by keyboard goes on at the field. */
const backToField = ({ id }: Picking): void =>
  document.querySelector<HTMLElement>(`[data-test="fix-pick-${id}"]`)?.focus();

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
  // Before the map hears of it, for the same reason.
  const onEnter = (event: KeyboardEvent): void => {
    const [waiting, at] = [picking.value, middleOfMap()];
    if (event.key !== "Enter" || !waiting || !at) return;
    event.stopPropagation();
    event.preventDefault();
    picking.value = null;
    waiting.take(at);
    backToField(waiting);
  };
  const onKey = (event: KeyboardEvent): void => {
    if (event.key !== "Escape" || picking.value === null) return;
    event.stopPropagation();
    const left = picking.value;
    picking.value = null;
    if (holder.contains(document.activeElement)) backToField(left);
  };

  holder.addEventListener("keydown", onEnter, true);
  holder.addEventListener("pointerdown", onPress, true);
  holder.addEventListener("click", onClick, true);
  window.addEventListener("keydown", onKey, true);
  return () => {
    holder.removeEventListener("keydown", onEnter, true);
    holder.removeEventListener("pointerdown", onPress, true);
    holder.removeEventListener("click", onClick, true);
    window.removeEventListener("keydown", onKey, true);
  };
}
