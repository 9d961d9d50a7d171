/** Dangers of the leg, in the order one comes to them, with the usual caution beside them. */
import { hazardWords } from "../../core/legs/aid-words.ts";
import { HAZARD_CAUTION, type Hazard } from "../../core/legs/aids/hazards.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { pointedStretch, shownLeg } from "../walk-state/selection.ts";
import { adviceWords } from "../words/advice-words.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";
import { Fold } from "./fold.tsx";
import { gravestFirst } from "./hazard-order.ts";
import { pointing } from "./pointed-aid.ts";

/** As many as are read at a glance; the gravest are among them. */
const SHOWN = 3;

export function Mind({ leg }: { readonly leg: LegFigures }) {
  if (!openMap.value || leg.bearingTrueDeg === null) return null;
  const { hazards } = leg;
  const first = new Set(gravestFirst(hazards).slice(0, SHOWN));
  const line = (hazard: Hazard, at: number) => (
    <Danger key={at} hazard={hazard} at={at} lengthM={leg.distanceM} />
  );
  return (
    <div class="aid mind" data-test="mind">
      <div>
        <AskAdvice figure="hazards">
          <b>{adviceWords.mind}</b>
        </AskAdvice>
        {hazards.length === 0 ? (
          <span class="soft"> {adviceWords.nothingToMind}</span>
        ) : (
          <ul class="dangers">{hazards.map((one, at) => first.has(one) && line(one, at))}</ul>
        )}
      </div>
      {hazards.length > first.size && (
        <Fold id="more-dangers" minor title={adviceWords.moreDangers(hazards.length - first.size)}>
          <ul class="dangers">{hazards.map((one, at) => !first.has(one) && line(one, at))}</ul>
        </Fold>
      )}
      <p class="soft small-print">
        {[...leg.hazardNotes, ...(hazards.length > 0 ? [HAZARD_CAUTION] : [])].join(" ")}
      </p>
      <HowAdvice figure="hazards" leg={leg} />
    </div>
  );
}

interface DangerProps {
  readonly hazard: Hazard;
  readonly at: number;
  readonly lengthM: number;
}

function Danger({ hazard, at, lengthM }: DangerProps) {
  const onMap = pointing("hazard", at);
  const onRibbon = (on: boolean): void => {
    pointedStretch.value =
      on && shownLeg.value !== null && hazard.fromM < lengthM
        ? { leg: shownLeg.value, fromM: hazard.fromM, toM: Math.min(lengthM, hazard.toM) }
        : null;
  };
  return (
    <li
      tabIndex={0}
      onPointerEnter={() => {
        onMap.onPointerEnter();
        onRibbon(true);
      }}
      onPointerLeave={() => {
        onMap.onPointerLeave();
        onRibbon(false);
      }}
      onFocusIn={() => {
        onMap.onFocusIn();
        onRibbon(true);
      }}
      onFocusOut={() => {
        onMap.onFocusOut();
        onRibbon(false);
      }}
    >
      {hazardWords(hazard, lengthUnit.value)}
    </li>
  );
}
