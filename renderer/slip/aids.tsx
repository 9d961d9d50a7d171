/** What helps on the leg, in sentences: what to follow, what stops you, what is met on the way. */
import type { Backstop, Handrail, LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatAngle, formatHeight, formatNumber } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { crossingTone } from "../ribbon/crossing-marks.tsx";
import { pointedAt, shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { rangeText } from "../words/figure-words.ts";
import { theThing, thingName } from "../words/kind-words.ts";
import { words } from "../words/words.ts";
import { OnTheWay } from "./on-the-way.tsx";
import { Ask, HowPanel } from "./how.tsx";

/** More would be a list to search, not advice. */
const SHOWN_HANDRAILS = 2;
/** A stretch that begins or ends this near an end of the leg does so at it, metres. */
const AT_END_M = 5;

export function Aids({ leg }: { readonly leg: LegFigures }) {
  const rails = leg.handrails.slice(0, SHOWN_HANDRAILS);
  const onMap = openMap.value !== null;
  return (
    <section class="aids">
      {rails.map((rail, i) => (
        <Follow key={i} rail={rail} lengthM={leg.distanceM} />
      ))}
      {leg.backstop && <Stops stop={leg.backstop} target={leg.to} />}
      {onMap && rails.length === 0 && <p class="aid-none soft">{words.slip.noFollow}</p>}
      {leg.steepestDeg !== null && (
        <p class="soft">
          <Ask figure="steepest" group="aids">
            {words.slip.steepest(formatAngle(leg.steepestDeg))}
          </Ask>
        </p>
      )}
      {leg.elevationErrorM !== null && (
        <p class="soft">{words.slip.heightError(formatHeight(leg.elevationErrorM, lengthUnit.value))}</p>
      )}
      <OnTheWay leg={leg} />
      <Crossings leg={leg} />
      <HowPanel group="aids" of={["handrail", "backstop", "steepest", "crossings"]} leg={leg} />
    </section>
  );
}

function Follow({ rail, lengthM }: { readonly rail: Handrail; readonly lengthM: number }) {
  const unit = lengthUnit.value;
  const offset = rangeText(rail.minOffsetM, rail.maxOffsetM, unit);
  const fromStart = rail.fromM < AT_END_M;
  const toEnd = rail.toM > lengthM - AT_END_M;
  const stretch = words.slip.stretch(
    fromStart ? null : formatAlong(rail.fromM, unit),
    toEnd ? null : formatAlong(rail.toM, unit),
  );
  return (
    <p class="aid follow" data-test="follow">
      <Ask figure="handrail" group="aids">
        <b>{words.slip.follow}</b>
      </Ask>
      {words.slip.followLine(theThing(rail.kind, rail.name), rail.side, offset, stretch)}
    </p>
  );
}

function Stops({ stop, target }: { readonly stop: Backstop; readonly target: string }) {
  const how =
    stop.crossingDeg >= 60
      ? words.slip.straightAcross
      : stop.crossingDeg >= 30
        ? words.slip.aslant
        : words.slip.glancing;
  // Rounded down: never "100 of 100" for nearly all.
  const of100 = formatNumber(Math.floor(stop.stoppedShare * 100));
  return (
    <p class="aid stop" data-test="stop">
      <Ask figure="backstop" group="aids">
        <b>{words.slip.stops}</b>
      </Ask>
      {stop.beyondM < 1
        ? words.slip.stopsAtLine(theThing(stop.kind, stop.name), target, how, of100)
        : words.slip.stopsLine(
            theThing(stop.kind, stop.name),
            formatAlong(stop.beyondM, lengthUnit.value),
            target,
            how,
            of100,
          )}
    </p>
  );
}

function Crossings({ leg }: { readonly leg: LegFigures }) {
  const unit = lengthUnit.value;
  // Contours are not seen on the ground; its forms and slopes are told above.
  const crossings = leg.crossings.filter(
    ({ crossingDeg, kind }) => kind !== "contour" && crossingDeg !== null,
  );
  if (!openMap.value) return null;
  const point = (atM: number | null): void => {
    pointedAt.value =
      atM === null || shownLeg.value === null ? null : { leg: shownLeg.value, atM, from: "slip" };
  };
  return (
    <div class="crossing-list">
      <div class="crossing-head">
        <h3>
          <Ask figure="crossings" group="aids">
            {words.slip.crossings}
          </Ask>
        </h3>
        {crossings.length > 0 && <span class="soft">{words.pace(walk.value.pace.steps)}</span>}
      </div>
      {crossings.length === 0 && <p class="soft">{words.slip.noCrossings}</p>}
      <ol>
        {crossings.map(({ kind, name, atM, paces, detail }, i) => (
          <li key={i} onPointerEnter={() => point(atM)} onPointerLeave={() => point(null)}>
            <span class={`dot ${crossingTone(kind)}`} />
            <span>
              {thingName(kind, name)}
              {detail && <span class="soft">, {detail}</span>}
            </span>
            <span class="crossing-at">{formatAlong(atM, unit)}</span>
            <span class="crossing-paces soft">{formatNumber(paces)}</span>
          </li>
        ))}
      </ol>
    </div>
  );
}
