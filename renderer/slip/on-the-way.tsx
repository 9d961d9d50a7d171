/** The leg told in order of walking, to be checked off on the ground, and whether its end is in view from its start. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatNumber } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { askLandmarksAtPoint } from "../place/place-state.ts";
import { pointedAt, pointedStretch, shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { Ask, HowPanel } from "./how.tsx";

export function OnTheWay({ leg }: { readonly leg: LegFigures }) {
  if (!openMap.value) return null;
  return (
    <section class="way" aria-label={words.slip.way}>
      <Sighting leg={leg} />
      <div class="crossing-head">
        <h3>
          <Ask figure="landforms" group="way">
            {words.slip.way}
          </Ask>
        </h3>
        {leg.onTheWay.length > 0 && <span class="soft">{words.pace(walk.value.pace.steps)}</span>}
      </div>
      {leg.onTheWay.length === 0 && <p class="soft">{words.slip.noWay}</p>}
      <Steps leg={leg} />
      <HowPanel group="way" of={["landforms"]} leg={leg} />
      {leg.landformsReason !== null && <p class="soft way-reason">{leg.landformsReason}</p>}
    </section>
  );
}

function Steps({ leg }: { readonly leg: LegFigures }) {
  const point = (step: LegFigures["onTheWay"][number] | null): void => {
    const at = shownLeg.value;
    const here = step !== null && at !== null;
    pointedAt.value = here ? { leg: at, atM: step.atM, from: "slip" } : null;
    pointedStretch.value = here && step.toM > step.atM ? { leg: at, fromM: step.atM, toM: step.toM } : null;
  };
  return (
    <ol class="way-steps" data-test="on-the-way">
      {leg.onTheWay.map((step, i) => (
        <li key={i} onPointerEnter={() => point(step)} onPointerLeave={() => point(null)}>
          <span class="way-box" aria-hidden="true" />
          <span>{step.words}</span>
          <span class="crossing-paces soft">{formatNumber(step.paces)}</span>
        </li>
      ))}
    </ol>
  );
}

function Sighting({ leg }: { readonly leg: LegFigures }) {
  const start = shownLeg.value === null ? undefined : walk.value.points[shownLeg.value];
  if (leg.distanceM === 0) return null;
  return (
    <div class="sighting">
      <p>
        <Ask figure="sight" group="sight">
          <b>{words.slip.sight.lead}</b>
        </Ask>{" "}
        <span data-test="sight">{sightWords(leg)}</span>
      </p>
      <HowPanel group="sight" of={["sight"]} leg={leg} />
      <div class="sighting-more">
        {start && (
          <button
            type="button"
            class="link"
            data-test="leg-landmarks"
            onClick={() => askLandmarksAtPoint(start.id)}
          >
            {words.slip.sight.landmarks(leg.from)}
          </button>
        )}
      </div>
    </div>
  );
}

function sightWords({ sight, from, to }: LegFigures): string {
  const { seen, hidden, hiddenOnly } = words.slip.sight;
  const along = (metres: number): string => formatAlong(metres, lengthUnit.value);
  if (sight.targetVisible) return seen(to, from);
  if (sight.targetVisible === null || sight.hiddenByM === null) return sight.reason ?? "";
  const by = along(sight.hiddenByM);
  return sight.visibleToM === null ? hiddenOnly(to, by) : hidden(to, by, along(sight.visibleToM));
}
