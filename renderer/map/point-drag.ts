/**
 * Dragging on the map with any pointer: live while it moves, one step of the history when let go, nothing when it
 * never moved or Escape was pressed.
 */
import type { Map as MapLibreMap } from "maplibre-gl";
import type { LonLat } from "../../core/units/position.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { effect, untracked } from "@preact/signals";
import { cancelDrag, dragTo, drop } from "../walk-state/walk-document.ts";
import { caughtPlace, catching, letGoOfCatch, lookForCatch } from "./snapping.ts";
import { pointer } from "./view-state.ts";

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
  let stopCatch = (): void => {};
  let last: PointerEvent = press;

  const show = (): void => {
    frame = 0;
    const there = lonLatAt(map, last.clientX, last.clientY, dx, dy);
    pointer.value = there;
    lookForCatch(there, last.shiftKey);
    follow();
  };
  /** Puts what is dragged to the pointer, or to what catches it. */
  const follow = (): void => {
    const there = lonLatAt(map, last.clientX, last.clientY, dx, dy);
    const at = last.shiftKey ? there : caughtPlace(there);
    dragTo((walk) => drag.change(walk, at));
  };
  const move = (event: PointerEvent): void => {
    if (event.pointerId !== press.pointerId) return;
    last = event;
    if (!moved && Math.hypot(event.clientX - press.clientX, event.clientY - press.clientY) < STILL_PX) return;
    if (!moved) {
      drag.began?.();
      // Answers come after the pointer moved: what is dragged goes to them as they come.
      stopCatch = effect(() => {
        void catching.value;
        untracked(follow);
      });
    }
    moved = true;
    // No more than one change a frame, however fast the pointer reports.
    frame ||= requestAnimationFrame(show);
  };
  const end = (event: PointerEvent): void => {
    if (event.pointerId !== press.pointerId) return;
    if (moved) {
      last = event;
      follow();
      drop(drag.stepName);
    }
    stop();
    if (!moved) drag.clicked();
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
    stopCatch();
    letGoOfCatch();
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
