/** The stretch of a leg shown on map and ribbon alike: pointed at itself, or a landform about the place pointed at. */
import { computed } from "@preact/signals";
import type { LegLandform } from "../../core/terrain/landforms/landforms-along.ts";
import { figures } from "./figures.ts";
import { pointedAt, pointedStretch, type StretchOfLeg } from "./selection.ts";

/** The narrowest of the landforms about a place: a spur on a ridge says more there than the ridge. */
export function landformAbout(forms: readonly LegLandform[], atM: number): LegLandform | null {
  let best: LegLandform | null = null;
  for (const form of forms)
    if (atM >= form.fromM && atM <= form.toM && (!best || form.toM - form.fromM < best.toM - best.fromM))
      best = form;
  return best;
}

/** About the place pointed at. */
export const landformHere = computed<LegLandform | null>(() => {
  const at = pointedAt.value;
  const forms = at && figures.value?.legs[at.leg]?.landforms;
  return at && forms ? landformAbout(forms, at.atM) : null;
});

export const shownStretch = computed<StretchOfLeg | null>(() => {
  if (pointedStretch.value) return pointedStretch.value;
  const [at, form] = [pointedAt.value, landformHere.value];
  return at && form && { leg: at.leg, fromM: form.fromM, toM: form.toM };
});
