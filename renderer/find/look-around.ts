/** Reads the names around the middle of the map, once for each part of it that is looked at. */
import { inverse } from "../../core/geodesy/geodesic.ts";
import { growBbox, type LonLat } from "../../core/units/position.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { openMap } from "../map-case/map-case.ts";
import { mapView } from "../map/view-state.ts";
import { mapMiddle, namesAround } from "./find-context.ts";
import type { NamedPlace } from "./named-places.ts";

/** Names are looked for this far around: a walk's reach, and few enough tiles to read at once. */
const NAMES_WITHIN_M = 6_000;

const askNames = newestWins<LonLat, readonly NamedPlace[]>({
  run: ([lon, lat], stop) =>
    worker.ask("namedPlaces", [growBbox([lon, lat, lon, lat], NAMES_WITHIN_M)], stop),
  answered: (found) => (namesAround.value = found),
  // Without names positions and points are still found.
  failed: () => (namesAround.value = []),
});

let askedFor: { readonly map: string; readonly at: LonLat } | null = null;

export function lookAround(): void {
  const center = mapView.value?.getCenter().wrap();
  const map = openMap.value?.opened.id;
  mapMiddle.value = center && map !== undefined ? [center.lng, center.lat] : null;
  if (!mapMiddle.value || map === undefined) {
    namesAround.value = [];
    askedFor = null;
    return;
  }
  if (askedFor?.map === map && inverse(askedFor.at, mapMiddle.value).distanceM < NAMES_WITHIN_M / 2) return;
  askedFor = { map, at: mapMiddle.value };
  askNames.ask(mapMiddle.value);
}
