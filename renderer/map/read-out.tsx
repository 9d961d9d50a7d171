/** What is under the pointer: grid reference, height, bearing and distance from the point that counts. */
import { signal, useSignalEffect } from "@preact/signals";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { dialledNorth } from "../../core/legs/norths/bearing-to-set.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatHeight } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { textOrReason } from "../find/position-texts.ts";
import { openMap, shownMap } from "../map-case/map-case.ts";
import { figures } from "../walk-state/figures.ts";
import { referencePoint } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOnNorth } from "../words/bearing-on.ts";
import { words } from "../words/words.ts";
import { pointer } from "./view-state.ts";

/** No pointer is held steadier than this on a map. */
const READ_TO_M = 10;

const heightThere = signal<number | null>(null);

const asking = newestWins<LonLat, number | null>({
  run: (lonLat, signal) => worker.ask("elevationAt", [lonLat], signal),
  answered: (height) => (heightThere.value = height),
  failed: () => (heightThere.value = null),
});

export function ReadOut() {
  useSignalEffect(() => {
    const at = pointer.value;
    // Without a map there is no height: that of another map must not stay.
    if (at && openMap.value) asking.ask(at);
    else heightThere.value = null;
  });
  const at = pointer.value;
  if (!at || !shownMap.value) return null;

  const index = referencePoint.value;
  const from = index === null ? null : walk.value.points[index];
  const line = from && inverse(from.lonLat, at);
  return (
    <p class="paper read-out" aria-label={words.readOut.label} data-test="read-out">
      <b data-test="read-out-place">{textOrReason(at, settings.value.notation, settings.value, READ_TO_M)}</b>
      {heightThere.value === null ? (
        <span class="soft">{words.readOut.noHeight}</span>
      ) : (
        <b>{formatHeight(heightThere.value, lengthUnit.value)}</b>
      )}
      {line && index !== null && line.distanceM >= 1 && (
        <span>
          <span class="soft">{words.readOut.from(pointLabel(walk.value, index))} </span>
          <b>
            {bearingOnNorth(
              line.bearing,
              from.lonLat,
              dialledNorth(settings.value.compass, walk.value.north),
              figures.value?.declination.deg ?? null,
              settings.value.compass,
            )}
          </b>
          <span class="soft">, </span>
          <b>{formatAlong(line.distanceM, lengthUnit.value)}</b>
        </span>
      )}
    </p>
  );
}
