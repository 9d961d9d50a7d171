/** The place asked about: what its ground is, and the landmarks in view from it. Given up when the place changes. */
import { batch, computed, effect, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { middleOfMap } from "../map/keyboard-draw.ts";
import { pointer } from "../map/view-state.ts";
import { pickedPoint, shownLeg } from "../walk-state/selection.ts";
import { dragging, walk } from "../walk-state/walk-document.ts";
import type { GroundReading, Landmarks } from "../worker/ground-questions.ts";

/** Asked about: a spot on the map, or a point of the walk, which may be moved. */
type Asked = { readonly lonLat: LonLat } | { readonly pointId: string };

export interface Place {
  readonly lonLat: LonLat;
  /** Of the walk's point it is; null for any other place. */
  readonly label: string | null;
}

const asked = signal<Asked | null>(null);
export const landmarksWanted = signal(false);

export const place = computed<Place | null>(() => {
  const now = asked.value;
  if (!now || !openMap.value) return null;
  if ("lonLat" in now) return { lonLat: now.lonLat, label: null };
  const index = walk.value.points.findIndex(({ id }) => id === now.pointId);
  const point = walk.value.points[index];
  return point ? { lonLat: point.lonLat, label: pointLabel(walk.value, index) } : null;
});

/** Null while it is worked out. */
export const reading = signal<GroundReading | Fault | null>(null);
export const landmarks = signal<Landmarks | Fault | null>(null);

const askReading = newestWins<LonLat, GroundReading | null>({
  run: (lonLat, stop) => worker.ask("groundAt", [lonLat], stop),
  answered: (found) => (reading.value = found),
  failed: (fault) => (reading.value = fault),
});

const askLandmarks = newestWins<LonLat, Landmarks | null>({
  run: (lonLat, stop) => worker.ask("landmarksFrom", [lonLat], stop),
  answered: (found) => (landmarks.value = found),
  failed: (fault) => (landmarks.value = fault),
  // Of another place they are of no use, however near they were to being done.
  patienceMs: 0,
});

const lonText = computed(() => place.value?.lonLat.join() ?? null);

effect(() => {
  const text = lonText.value;
  void openMap.value;
  reading.value = null;
  if (text === null || dragging.value) return askReading.stop();
  askReading.ask(place.peek()?.lonLat as LonLat);
});

effect(() => {
  const text = lonText.value;
  void openMap.value;
  landmarks.value = null;
  if (text === null || !landmarksWanted.value || dragging.value) return askLandmarks.stop();
  askLandmarks.ask(place.peek()?.lonLat as LonLat);
});

let cameFrom: Element | null = null;

function open(what: Asked | null, withLandmarks: boolean, byKeyboard: boolean): void {
  if (!what) return;
  if (!place.peek()) cameFrom = document.activeElement;
  batch(() => {
    asked.value = what;
    if (withLandmarks) landmarksWanted.value = true;
  });
  if (byKeyboard) requestAnimationFrame(() => document.querySelector<HTMLElement>(".place-slip")?.focus());
}

/** @param byKeyboard the slip then takes the keyboard */
export function askGroundAt(lonLat: LonLat, byKeyboard: boolean): void {
  open({ lonLat }, false, byKeyboard);
}

export function askGroundAtPoint(pointId: string, byKeyboard: boolean): void {
  open({ pointId }, false, byKeyboard);
}

export function askLandmarksAtPoint(pointId: string): void {
  open({ pointId }, true, true);
}

const spot = (lonLat: LonLat | null): Asked | null => lonLat && { lonLat };
const pointOf = (index: number | null): Asked | null => {
  const point = index === null ? null : walk.value.points[index];
  return point ? { pointId: point.id } : null;
};

/** Under the pointer or the cross; with neither on the map at the picked point, else in its middle. */
export function askGroundHere(): void {
  open(spot(pointer.value) ?? pointOf(pickedPoint.value) ?? spot(middleOfMap()), false, true);
}

/** From the place asked about; else from the picked point, or where the leg on the slip starts; else as above. */
export function askLandmarksHere(): void {
  const here = place.peek() ? asked.peek() : null;
  open(
    here ??
      pointOf(pickedPoint.value) ??
      pointOf(shownLeg.value) ??
      spot(pointer.value) ??
      spot(middleOfMap()),
    true,
    true,
  );
}

/** @returns whether there was one to put away */
export function leavePlace(): boolean {
  const was = place.peek() !== null;
  const inSlip = document.activeElement?.closest(".place-slip") !== null;
  batch(() => {
    asked.value = null;
    landmarksWanted.value = false;
  });
  if (was && inSlip) {
    if (cameFrom instanceof HTMLElement && cameFrom.isConnected && cameFrom !== document.body)
      cameFrom.focus();
    else document.querySelector<HTMLElement>(".maplibregl-canvas")?.focus();
  }
  return was;
}
