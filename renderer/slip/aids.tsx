/** What helps on the leg, in sentences: what to follow, what stops you, where to go by, what to mind and to tick off. */
import { metHow } from "../../core/legs/aids/backstop-words.ts";
import type { Backstop, Handrail, LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatAngle, formatHeight, formatNumber } from "../../core/units/format.ts";
import { Fold } from "../advice/fold.tsx";
import { AimOff, GoBy } from "../advice/going-by.tsx";
import { Marks } from "../advice/marks.tsx";
import { Mind } from "../advice/mind.tsx";
import { pointing } from "../advice/pointed-aid.ts";
import { adviceWords } from "../words/advice-words.ts";
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

/** A stretch that begins or ends this near an end of the leg does so at it, metres. */
const AT_END_M = 5;

export function Aids({ leg }: { readonly leg: LegFigures }) {
  const [first, ...others] = leg.handrails;
  const onMap = openMap.value !== null;
  return (
    <section class="aids">
      {first && <Follow rail={first} at={0} lengthM={leg.distanceM} />}
      {others.length > 0 && (
        <Fold id="more-follow" minor title={adviceWords.more(others.length)}>
          {others.map((rail, i) => (
            <Follow key={i} rail={rail} at={i + 1} lengthM={leg.distanceM} />
          ))}
        </Fold>
      )}
      {onMap && !first && <p class="aid-none soft">{words.slip.noFollow}</p>}
      {leg.backstop && <Stops leg={leg} stop={leg.backstop} />}
      {onMap && !leg.backstop && leg.bearingTrueDeg !== null && (
        <p class="aid-none soft">
          <Ask figure="backstop" group="aids">
            {adviceWords.noStop}
          </Ask>
        </p>
      )}
      <HowPanel group="aids" of={["handrail", "backstop"]} leg={leg} />
      <GoBy leg={leg} />
      <AimOff leg={leg} />
      <Mind leg={leg} />
      <Marks leg={leg} />
    </section>
  );
}

/** What the ground is and what is met on the way, to look up rather than to walk by. */
export function Met({ leg }: { readonly leg: LegFigures }) {
  return (
    <section class="aids met">
      <OnTheWay leg={leg} />
      <Crossings leg={leg} />
      {leg.steepestDeg !== null && (
        <p class="soft">
          <Ask figure="steepest" group="met">
            {words.slip.steepest(formatAngle(leg.steepestDeg))}
          </Ask>
        </p>
      )}
      {leg.elevationErrorM !== null && (
        <p class="soft">{words.slip.heightError(formatHeight(leg.elevationErrorM, lengthUnit.value))}</p>
      )}
      <HowPanel group="met" of={["steepest", "crossings"]} leg={leg} />
    </section>
  );
}

interface FollowProps {
  readonly rail: Handrail;
  readonly at: number;
  readonly lengthM: number;
}

function Follow({ rail, at, lengthM }: FollowProps) {
  const unit = lengthUnit.value;
  const offset = rangeText(rail.minOffsetM, rail.maxOffsetM, unit);
  const fromStart = rail.fromM < AT_END_M;
  const toEnd = rail.toM > lengthM - AT_END_M;
  const stretch = words.slip.stretch(
    fromStart ? null : formatAlong(rail.fromM, unit),
    toEnd ? null : formatAlong(rail.toM, unit),
  );
  return (
    <p class="aid follow" data-test="follow" {...pointing("follow", at)}>
      <Ask figure="handrail" group="aids">
        <b>{words.slip.follow}</b>
      </Ask>
      {words.slip.followLine(theThing(rail.kind, rail.name), rail.side, offset, stretch)}
    </p>
  );
}

function Stops({ leg, stop }: { readonly leg: LegFigures; readonly stop: Backstop }) {
  const second = leg.secondBackstop;
  const target = leg.to;
  const how = {
    straight: words.slip.straightAcross,
    aslant: words.slip.aslant,
    glancing: words.slip.glancing,
  }[metHow(stop.crossingDeg)];
  // Rounded down: never "100 of 100" for nearly all.
  const of100 = formatNumber(Math.floor(stop.stoppedShare * 100));
  return (
    <div class="aid stop" data-test="stop" {...pointing("stop")}>
      <p>
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
      {leg.backstopLooks !== null && <p class="soft small-print">{leg.backstopLooks}</p>}
      {second && (
        <p {...pointing("second")} data-test="second-stop">
          <b>{adviceWords.second}</b>
          {adviceWords.secondLine(
            theThing(second.kind, second.name),
            formatAlong(second.beyondM, lengthUnit.value),
            formatNumber(Math.floor(second.stoppedShare * 100)),
          )}
        </p>
      )}
    </div>
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
          <Ask figure="crossings" group="met">
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
