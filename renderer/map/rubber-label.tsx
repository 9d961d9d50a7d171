/** Beside the pointer while a leg is being drawn: the bearing to set, how far, how much up and down, and what catches it. */
import { signal, useSignalEffect } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { dialledNorth } from "../../core/legs/norths/bearing-to-set.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import type { Climb } from "../../core/terrain/climb.ts";
import { formatHeight } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { figures, legSettings } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOnNorth } from "../words/bearing-on.ts";
import { words } from "../words/words.ts";
import { catching } from "./snapping.ts";
import { mapMoves } from "./view-state.ts";
import { rubberTo } from "./walk-picture.ts";

const climb = signal<Climb | null>(null);

const asking = newestWins<readonly [LonLat, LonLat], Climb | null>({
  run: ([from, to], stop) =>
    worker.ask("climbBetween", [from, to, { climbThresholdM: legSettings.peek().climbThresholdM }], stop),
  answered: (found) => (climb.value = found),
  failed: () => (climb.value = null),
});

export function RubberLabel({ map }: { readonly map: MapLibreMap }) {
  void mapMoves.value;
  const from = walk.value.points.at(-1)?.lonLat;
  const to = rubberTo.value;
  useSignalEffect(() => {
    const start = walk.value.points.at(-1)?.lonLat;
    const end = rubberTo.value;
    if (start && end) asking.ask([start, end]);
  });
  const held = catching.value;
  if (!to && !held) return null;
  const at = held?.lonLat ?? to;
  if (!at) return null;
  const { x, y } = map.project([at[0], at[1]]);
  const line = from && to && inverse(from, to);
  return (
    <>
      {held && (
        <span class="catch-mark" data-test="catch" style={{ transform: `translate(${x}px, ${y}px)` }} />
      )}
      <p
        class="paper rubber-label"
        data-test="rubber"
        style={{ transform: `translate(${x + 16}px, ${y + 16}px)` }}
        aria-hidden="true"
      >
        {line && from && line.distanceM >= 1 && (
          <span class="rubber-figures">
            <b>
              {bearingOnNorth(
                line.bearing,
                from,
                dialledNorth(settings.value.compass, walk.value.north),
                figures.value?.declination.deg ?? null,
                settings.value.compass,
              )}
            </b>
            <b>{formatAlong(line.distanceM, lengthUnit.value)}</b>
            {climb.value && (
              <span>
                {words.ribbon.climb(
                  formatHeight(climb.value.climbM, lengthUnit.value),
                  formatHeight(climb.value.descentM, lengthUnit.value),
                )}
              </span>
            )}
          </span>
        )}
        {held && <span class="soft">{held.words}</span>}
      </p>
    </>
  );
}
