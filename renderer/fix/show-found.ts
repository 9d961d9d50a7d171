/** Brings what was found into the part of the map that neither the panels nor the slip cover. */
import { direct } from "../../core/geodesy/geodesic.ts";
import { trueBearing } from "../../core/units/angle.ts";
import { bboxOf, type LonLat } from "../../core/units/position.ts";
import { roomBesideSlip } from "../find/show-place.ts";
import { mapView } from "../map/view-state.ts";

/** Nearer than this a single place fills the map with nothing around it. */
const CLOSEST = 16;

export function showFound(places: readonly LonLat[]): void {
  const box = bboxOf([...places]);
  const [west, south, east, north] = box ?? [0, 0, 0, 0];
  if (box)
    mapView.value?.fitBounds([west, south, east, north], {
      padding: roomBesideSlip("fix-slip"),
      maxZoom: CLOSEST,
      animate: false,
    });
}

/** So that what is drawn around a place, as far as this, is shown as well. */
export const reachOf = (at: LonLat, metres: number): LonLat[] =>
  [0, 90, 180, 270].map((bearing) => direct(at, trueBearing(bearing), metres));
