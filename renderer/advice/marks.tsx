/** How many marks to steer by, and what to tick off with its paces, in two compact lines. */
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatNumber } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { pointedAt, shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { thingName } from "../words/kind-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { words } from "../words/words.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";

export function Marks({ leg }: { readonly leg: LegFigures }) {
  const { steering, tickMarks, distanceM } = leg;
  if (leg.bearingTrueDeg === null) return null;
  const from = steering.targetInSightFromM;
  const point = (atM: number | null): void => {
    pointedAt.value =
      atM === null || shownLeg.value === null ? null : { leg: shownLeg.value, atM, from: "slip" };
  };
  return (
    <div class="marks" data-test="marks">
      <p>
        <AskAdvice figure="steering">
          <b>{adviceWords.marks}</b>
        </AskAdvice>
        {adviceWords.marksLine(steering.marks)}{" "}
        {from !== null && from < distanceM && (
          <span class="soft">
            {steering.targetInSight
              ? adviceWords.inSightAll
              : adviceWords.inSight(formatAlong(from, lengthUnit.value))}
          </span>
        )}
      </p>
      {tickMarks.length > 0 && (
        <p class="ticks" data-test="ticks">
          <b>{adviceWords.ticks}</b>{" "}
          {tickMarks.map(({ kind, name, atM, paces }, i) => (
            <span key={i}>
              <span class="tick-mark" onPointerEnter={() => point(atM)} onPointerLeave={() => point(null)}>
                {thingName(kind, name)} <b>{formatNumber(paces)}</b>
                {i < tickMarks.length - 1 && <span class="soft"> ·</span>}
              </span>{" "}
            </span>
          ))}
          <span class="soft">{words.pace(walk.value.pace.steps)}</span>
        </p>
      )}
      <HowAdvice figure="steering" leg={leg} />
    </div>
  );
}
