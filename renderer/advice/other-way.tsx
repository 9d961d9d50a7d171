/** A longer way along lines, where it is safer than the straight leg. */
import type { RouteAdvice } from "../../core/legs/advice/advice.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatDuration } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { climbText } from "../words/figure-words.ts";
import { theThing } from "../words/kind-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { shownAdvice } from "./advice-state.ts";
import { takeRoute } from "./apply.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";
import { dialled } from "./dialled.ts";
import { Fold } from "./fold.tsx";
import { of100 } from "./of-100.ts";
import { pointing } from "./pointed-aid.ts";

const words = adviceWords.route;

export function OtherWay({ leg }: { readonly leg: LegFigures }) {
  const { advice, isCurrent } = shownAdvice.value;
  const route = advice?.route ?? null;
  if (!route) return null;
  const unit = lengthUnit.value;
  const distance = formatAlong(route.distanceM, unit);
  return (
    <div class={isCurrent ? "" : "old"} data-test="other-way" {...pointing("route")}>
      <Fold
        id="route"
        title={words.title}
        sum={words.summary(distance, route.odds && of100(route.odds).find)}
      >
        <p>
          <AskAdvice figure="route">
            <b>
              {words.line(
                distance,
                climbText(route.climbM, route.descentM, unit) || null,
                route.timeS === null ? null : formatDuration(route.timeS),
              )}
            </b>
          </AskAdvice>
          {route.odds && <>; {adviceWords.better.find(of100(route.odds).find)}</>}.
        </p>
        <HowAdvice figure="route" leg={leg} />
        <ol class="route-parts">
          {route.parts.map((part, i) => (
            <li key={i}>{partWords(part, leg)}</li>
          ))}
        </ol>
        <p class="soft">{route.why}</p>
        {route.parts.length > 1 && (
          <>
            <button
              type="button"
              class="button edged"
              data-test="take-route"
              onClick={() => shownLeg.value !== null && takeRoute(route, shownLeg.value)}
            >
              {words.use}
            </button>
            <p class="soft small-print">{words.warn}</p>
          </>
        )}
      </Fold>
    </div>
  );
}

function partWords(part: RouteAdvice["parts"][number], leg: LegFigures): string {
  const distance = formatAlong(part.distanceM, lengthUnit.value);
  if (part.kind !== null) return words.follow(theThing(part.kind, part.name), distance);
  const to = part.stop ? words.to(theThing(part.stop.kind, part.stop.name)) : "";
  return part.bearingTrueDeg === null
    ? `${words.parts.straight}, ${distance}`
    : words.straight(dialled(part.bearingTrueDeg, leg), distance) + to;
}
