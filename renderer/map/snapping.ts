/**
 * Catching: what lies near the pointer draws it, so that points are put on junctions, summits, paths, and not beside
 * them. What it would be caught by is shown before the button is pressed; with Shift held nothing is.
 */
import { computed, signal } from "@preact/signals";
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { SnapPlace } from "../../core/legs/aids/snap-place.ts";
import type { LonLat } from "../../core/units/position.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { metresPerPixel, pointer } from "./view-state.ts";

const REACH_PX = 14;
/** With a pixel as large as this, metres, everything is near something: nothing is caught. */
const COARSE_M = 12;

interface Caught {
  /** Where the pointer was. */
  readonly at: LonLat;
  readonly place: SnapPlace;
}

const caught = signal<Caught | null>(null);
const free = signal(false);

const asking = newestWins<LonLat, SnapPlace | null>({
  run: (at, stop) => worker.ask("snapPlace", [at, REACH_PX * metresPerPixel.peek()], stop),
  answered: (place, at) => (caught.value = place && { at, place }),
  failed: () => (caught.value = null),
});

/** To be told of every move of the pointer. @param freely the person wants nothing to be caught now */
export function lookForCatch(at: LonLat, freely: boolean): void {
  free.value = freely;
  if (freely || !settings.value.catching || !openMap.value || metresPerPixel.value > COARSE_M) {
    asking.stop();
    caught.value = null;
  } else asking.ask(at);
}

export function letGoOfCatch(): void {
  asking.stop();
  caught.value = null;
}

/** What catches the pointer where it is; null when nothing does, or while that is not known yet. */
export const catching = computed<SnapPlace | null>(() => (pointer.value ? catchFor(pointer.value) : null));

function catchFor(at: LonLat): SnapPlace | null {
  const found = caught.value;
  if (!found || free.value) return null;
  const reachM = REACH_PX * metresPerPixel.value;
  return inverse(at, found.place.lonLat).distanceM <= reachM ? found.place : null;
}

/** Where a point put down at a place goes: to what catches it, else there. */
export const caughtPlace = (at: LonLat): LonLat => catchFor(at)?.lonLat ?? at;
