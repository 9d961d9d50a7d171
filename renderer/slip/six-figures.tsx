/** Distance, climb, paces and time of a leg; each says how it was worked out. */
import type { LegFigures } from "../../core/legs/figures.ts";
import type { HowFigure } from "../../core/legs/how/how.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatDuration, formatHeight, formatNumber } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { Ask, HowPanel } from "./how.tsx";

interface Cell {
  readonly name: string;
  readonly value: string;
  readonly test: string;
  readonly figure: HowFigure;
}

export function SixFigures({ leg }: { readonly leg: LegFigures }) {
  const unit = lengthUnit.value;
  const { slip } = words;
  const cells: readonly Cell[] = [
    { name: slip.onMap, value: formatAlong(leg.distanceM, unit), test: "distance", figure: "distance" },
    {
      name: slip.onSlope,
      value: formatAlong(leg.slopeDistanceM, unit),
      test: "slope-distance",
      figure: "slopeDistance",
    },
    {
      name: words.pace(walk.value.pace.steps),
      value: formatNumber(leg.paces),
      test: "paces",
      figure: "paces",
    },
    { name: slip.climb, value: formatHeight(leg.climbM, unit), test: "climb", figure: "climb" },
    { name: slip.descent, value: formatHeight(leg.descentM, unit), test: "descent", figure: "descent" },
    { name: slip.time, value: formatDuration(leg.timeS), test: "time", figure: "time" },
  ];
  return (
    <div>
      <dl class="six-figures">
        {cells.map(({ name, value, test, figure }) => (
          <div key={test}>
            <dt class="soft">{name}</dt>
            <dd>
              <Ask figure={figure} group="figures">
                <span data-test={test}>{value}</span>
              </Ask>
            </dd>
          </div>
        ))}
      </dl>
      <HowPanel group="figures" of={cells.map(({ figure }) => figure)} leg={leg} />
    </div>
  );
}
