/** The walk as the map draws it, kept in step with walk, figures and pointer. */
import { computed } from "@preact/signals";
import { figures, legSettings } from "../walk-state/figures.ts";
import { pointedLeg, referencePoint, shownLeg } from "../walk-state/selection.ts";
import { dragging, walk } from "../walk-state/walk-document.ts";
import { caughtPlace } from "./snapping.ts";
import { pointer, wouldAdd } from "./view-state.ts";
import { walkFeatures } from "./walk-features.ts";

/** Where a click would end a new leg: shown while the pointer's bearing counts from the last point. */
export const rubberTo = computed(() => {
  const last = walk.value.points.length - 1;
  return wouldAdd.value && !dragging.value && referencePoint.value === last && pointer.value
    ? caughtPlace(pointer.value)
    : null;
});

export const walkPicture = computed(() =>
  walkFeatures({
    walk: walk.value,
    shownLeg: shownLeg.value,
    pointedLeg: pointedLeg.value,
    figures: shownLeg.value === null ? null : (figures.value?.legs[shownLeg.value] ?? null),
    driftDeg: legSettings.value.driftDeg,
    rubberTo: rubberTo.value,
  }),
);
