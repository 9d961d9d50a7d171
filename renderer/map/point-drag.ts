/**
 * Dragging on the map with any pointer: live while it moves, one step of the history when let go, nothing when it
 * never moved or Escape was pressed.
 */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { LonLat } from "../../core/units/position.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { cancelDrag, dragTo, drop } from "../walk-state/walk-document.ts";

/** A hand shakes by this much without meaning it, pixels. */
const STILL_PX = 4;

export interface Drag {
  /** What the walk is with the pointer at a place. */
  readonly change: (walk: Walk, lonLat: LonLat) => Walk;
  readonly stepName: string;
  /** The pointer was let go where it was pressed. */
  readonly clicked: () => void;
  readonly began?: () => void;
}

export function lonLatAt(map: MapLibreMap, clientX: number, clientY: number, dx = 0, dy = 0): LonLat {
  const box = map.getCanvas().getBoundingClientRect();
  const { lng, lat } = map.unproject([clientX - box.left + dx, clientY - box.top + dy]).wrap();
  return [lng, lat];
}

/**
 * @param element has the pointer pressed on it; keeps it until it is let go
 * @param anchor where on the screen the dragged thing is, so that it does not jump under the pointer
 */
export function startDrag(
  map: MapLibreMap,
  element: HTMLElement,
  press: PointerEvent,
  anchor: { readonly x: number; readonly y: number } | null,
  drag: Drag,
): void {
  const box = map.getCanvas().getBoundingClientRect();
  const dx = anchor ? anchor.x - (press.clientX - box.left) : 0;
  const dy = anchor ? anchor.y - (press.clientY - box.top) : 0;
  let moved = false;
  let frame = 0;
  let last: PointerEvent = press;

  const show = (): void => {
    frame = 0;
    const at = lonLatAt(map, last.clientX, last.clientY, dx, dy);
    dragTo((walk) => drag.change(walk, at));
  };
  const move = (event: PointerEvent): void => {
    if (event.pointerId !== press.pointerId) return;
    last = event;
    if (!moved && Math.hypot(event.clientX - press.clientX, event.clientY - press.clientY) < STILL_PX) return;
    if (!moved) drag.began?.();
    moved = true;
    // No more than one change a frame, however fast the pointer reports.
    frame ||= requestAnimationFrame(show);
  };
  const end = (event: PointerEvent): void => {
    if (event.pointerId !== press.pointerId) return;
    stop();
    if (!moved) drag.clicked();
    else {
      last = event;
      show();
      drop(drag.stepName);
    }
  };
  const give = (): void => {
    stop();
    cancelDrag();
  };
  const key = (event: KeyboardEvent): void => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    event.stopPropagation();
    give();
  };
  const stop = (): void => {
    cancelAnimationFrame(frame);
    element.removeEventListener("pointermove", move);
    element.removeEventListener("pointerup", end);
    element.removeEventListener("pointercancel", give);
    window.removeEventListener("keydown", key, true);
  };

  element.setPointerCapture(press.pointerId);
  element.addEventListener("pointermove", move);
  element.addEventListener("pointerup", end);
  element.addEventListener("pointercancel", give);
  window.addEventListener("keydown", key, true);
}
