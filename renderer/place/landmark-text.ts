/** A landmark's bearing and distance as they are read: on the north that is dialled, in the person's units. */
import { computed } from "@preact/signals";
import { toUtm } from "../../core/geodesy/utm.ts";
import { dialledNorth } from "../../core/legs/norths/bearing-to-set.ts";
import { declinationsAt } from "../../core/legs/norths/declinations.ts";
import { formatLength } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { shownFigures } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOnNorth } from "../words/bearing-on.ts";
import type { Landmark } from "../worker/ground-questions.ts";
import { type LegAhead, offAhead } from "./landmark-rows.ts";
import { place } from "./place-state.ts";

const declinationThere = computed<number | null>(() => {
  const at = place.value?.lonLat;
  if (!at) return null;
  const { date, declination } = walk.value;
  return declinationsAt(at, null, toUtm(at).convergenceDeg, { date, declination }).deg;
});

export const landmarkBearing = (from: LonLat, { bearing }: Landmark): string =>
  bearingOnNorth(
    bearing,
    from,
    dialledNorth(settings.value.compass, walk.value.north),
    declinationThere.value,
    settings.value.compass,
  );

export const landmarkDistance = ({ distanceM }: Landmark): string =>
  formatLength(distanceM, lengthUnit.value);

/** "Lowder Knott 312° mag, 2.4 km" */
export const landmarkLabel = (from: LonLat, landmark: Landmark): string =>
  `${landmark.place.name} ${landmarkBearing(from, landmark)}, ${landmarkDistance(landmark)}`;

/** How far off the leg on the slip it lies, degrees, and which leg that is; null when it is not nearly ahead. */
export function aheadOn(
  from: LonLat,
  landmark: Landmark,
): { readonly leg: number; readonly offDeg: number } | null {
  const leg: LegAhead | null = shownFigures.value;
  const offDeg = offAhead(from, leg, landmark);
  return leg && offDeg !== null ? { leg: leg.n, offDeg } : null;
}
