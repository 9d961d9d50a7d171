/** The find slip: whether it lies on the map, what is typed in it, what that means, and the place last gone to. */
import { computed, effect, signal } from "@preact/signals";
import type { LonLat } from "../../core/units/position.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap, shownMap } from "../map-case/map-case.ts";
import { addPointAt } from "../map/draw.ts";
import { mapView } from "../map/view-state.ts";
import { pickPoint } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import type { GroundReading } from "../worker/ground-questions.ts";
import { findWords } from "../words/find-words.ts";
import { findContext } from "./find-context.ts";
import { lookAround } from "./look-around.ts";
import { offMap } from "./off-map.ts";
import { showPlace } from "./show-place.ts";
import { understand, type Understood } from "./understand.ts";

export const findOpen = signal(false);
export const findText = signal("");
/** Which of several meanings is looked at. */
export const findChoice = signal(0);
/** What was done last, said to the person. */
export const findDone = signal<string | null>(null);
/** The place gone to: marked on the map until it is put away. */
export const foundPlace = signal<Understood | null>(null);

export const understanding = computed(() => understand(findText.value, findContext.value));

/** The meaning looked at; null when there is none. */
export const looked = computed<Understood | null>(() => {
  const meant = understanding.value;
  return meant.kind === "places" ? (meant.places[findChoice.value] ?? meant.places[0] ?? null) : null;
});

/** Why the map cannot go there; null when it can. */
export const cannotGo = computed<{ readonly off: ReturnType<typeof offMap> } | null>(() => {
  const place = looked.value;
  const open = shownMap.value;
  if (!place) return null;
  if (!open) return { off: null };
  const off = offMap(place.lonLat, open.info.bounds);
  return off && { off };
});

/** Height at the place looked at, metres; null where it is not known. */
export const lookedHeight = signal<number | null>(null);

const askHeight = newestWins<LonLat, number | null>({
  run: (lonLat, stop) => worker.ask("elevationAt", [lonLat], stop),
  answered: (height) => (lookedHeight.value = height),
  failed: () => (lookedHeight.value = null),
});

/** What the ground at the place looked at is; null where it is not known yet. */
export const lookedGround = signal<GroundReading | null>(null);

const askGround = newestWins<LonLat, GroundReading | null>({
  run: (lonLat, stop) => worker.ask("groundAt", [lonLat], stop),
  answered: (found) => (lookedGround.value = found),
  failed: () => (lookedGround.value = null),
  patienceMs: 0,
});

effect(() => {
  const place = looked.value;
  lookedHeight.value = null;
  lookedGround.value = null;
  if (!place || !findOpen.value || !openMap.value) return;
  askHeight.ask(place.lonLat);
  if (!cannotGo.value) askGround.ask(place.lonLat);
});

// Another map has other names, and a place found on the old one may not be on it.
effect(() => {
  void openMap.value;
  if (findOpen.value) lookAround();
});

let cameFrom: Element | null = null;

export function openFind(): void {
  if (!findOpen.peek()) cameFrom = document.activeElement;
  findOpen.value = true;
  lookAround();
  // Once it is on the page; asked for again it takes the keyboard back.
  requestAnimationFrame(() => document.querySelector<HTMLInputElement>(".find-field")?.select());
}

export function closeFind(): void {
  findOpen.value = false;
  if (cameFrom instanceof HTMLElement && cameFrom.isConnected && cameFrom !== document.body) cameFrom.focus();
  else document.querySelector<HTMLElement>(".maplibregl-canvas")?.focus();
}

export function typeToFind(text: string): void {
  findText.value = text;
  findChoice.value = 0;
  findDone.value = null;
}

/** Shows the place looked at; nothing moves when there is none or it is off the map. */
export function goThere(): void {
  const place = looked.value;
  if (!place || cannotGo.value) return;
  const map = mapView.value;
  // A point of the walk has its flag; anything else needs a mark of its own.
  foundPlace.value = place.point === null ? place : null;
  if (place.point !== null) pickPoint(place.point);
  if (map) showPlace(map, place);
  findDone.value = findWords.shown;
  lookAround();
}

/** Adds the place looked at to the end of the walk. A point of the walk is not added a second time. */
export function addLooked(): void {
  const place = looked.value;
  if (!place || place.point !== null) return;
  addFound(place);
  findDone.value = findWords.added(pointLetter(walk.value.points.length - 1));
}

export function addFound(place: Understood): void {
  addPointAt(place.lonLat);
  foundPlace.value = null;
}

export function leaveFound(): void {
  foundPlace.value = null;
}
