/** What a typed place is read against: the walk, the map around, and how the person writes positions. */
import { computed, signal } from "@preact/signals";
import type { LonLat } from "../../core/units/position.ts";
import { pointLabel, pointLetter } from "../../core/walk/walk.ts";
import { settings } from "../app/settings.ts";
import { referencePoint } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import type { NamedPlace } from "./named-places.ts";
import type { Asked } from "./understand.ts";

/** Names around the middle of the map, as far as they have been read. */
export const namesAround = signal<readonly NamedPlace[]>([]);
/** Middle of the map when it was last looked at. */
export const mapMiddle = signal<LonLat | null>(null);

export const findContext = computed<Asked>(() => ({
  near: mapMiddle.value,
  notation: settings.value.notation,
  grids: settings.value.grids,
  gridName: settings.value.gridName,
  date: walk.value.date,
  declination: walk.value.declination,
  north: walk.value.north,
  points: walk.value.points.map(({ lonLat }, i) => ({
    label: pointLabel(walk.value, i),
    letter: pointLetter(i),
    lonLat,
  })),
  from: referencePoint.value,
  places: namesAround.value,
}));
