/** Turning and tilting the map: north is up and the view from above unless a person asks otherwise. */
import { computed, signal } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { inverse } from "../../core/geodesy/geodesic.ts";
import type { LonLat } from "../../core/units/position.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { mapView } from "./view-state.ts";

const TILT_DEG = 50;

/** True bearing that is up on the map, 0–360°. */
export const upDeg = signal(0);
export const tilted = signal(false);
export const turned = computed(() => Math.abs(((upDeg.value + 180) % 360) - 180) > 0.05);

/** Keeps what is known of the view in step with it. @returns stops */
export function followTurns(map: MapLibreMap): () => void {
  const read = (): void => {
    upDeg.value = (map.getBearing() + 360) % 360;
    tilted.value = map.getPitch() > 0;
  };
  map.on("rotate", read);
  map.on("pitch", read);
  return () => {
    map.off("rotate", read);
    map.off("pitch", read);
  };
}

const shownEnds = computed<readonly [LonLat, LonLat] | null>(() => {
  const leg = shownLeg.value;
  const [from, to] = leg === null ? [] : [walk.value.points[leg], walk.value.points[leg + 1]];
  return from && to ? [from.lonLat, to.lonLat] : null;
});

/** The bearing of the leg on the slip; null without one that leads anywhere. */
export const shownLegDeg = computed<number | null>(() => {
  const ends = shownEnds.value;
  if (!ends) return null;
  const { bearing, distanceM } = inverse(ends[0], ends[1]);
  return distanceM > 0 ? bearing : null;
});

/** As one holds a map on the hill: the leg on the slip runs up it. Turned already, north comes up again. */
export function turnToLeg(): void {
  const map = mapView.peek();
  if (!map) return;
  if (turned.peek()) northUp();
  else if (shownLegDeg.peek() !== null)
    map.jumpTo({
      bearing: shownLegDeg.peek() as number,
      ...(middleOfLeg() ? { center: middleOfLeg() as [number, number] } : {}),
    });
}

function middleOfLeg(): [number, number] | null {
  const ends = shownEnds.peek();
  return ends && [(ends[0][0] + ends[1][0]) / 2, (ends[0][1] + ends[1][1]) / 2];
}

export const northUp = (): void => void mapView.peek()?.jumpTo({ bearing: 0 });

export function toggleTilt(): void {
  const map = mapView.peek();
  map?.jumpTo({ pitch: map.getPitch() > 0 ? 0 : TILT_DEG });
}
