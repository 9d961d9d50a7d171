/** Ways to a hard target: by an easy place near it, or past it on purpose to a line that leads to it. */
import type { AimOffFigure, AttackPointFigure, LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatNumber } from "../../core/units/format.ts";
import { lengthUnit } from "../app/settings.ts";
import { shownLeg } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { adviceWords } from "../words/advice-words.ts";
import { words } from "../words/words.ts";
import { chooseAimOff, goBy } from "./apply.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";
import { dialled } from "./dialled.ts";
import { Fold } from "./fold.tsx";
import { pointing } from "./pointed-aid.ts";

export function GoBy({ leg }: { readonly leg: LegFigures }) {
  const [first, ...others] = leg.attackPoints;
  if (!first) return null;
  return (
    <div class="aid go-by" data-test="go-by">
      <AttackPoint leg={leg} point={first} at={0} lead={adviceWords.goBy} />
      <HowAdvice figure="attackPoints" leg={leg} />
      {others.length > 0 && (
        <Fold id="more-attack" minor title={adviceWords.or}>
          {others.map((point, i) => (
            <AttackPoint key={i} leg={leg} point={point} at={i + 1} lead={null} />
          ))}
        </Fold>
      )}
    </div>
  );
}

interface AttackProps {
  readonly leg: LegFigures;
  readonly point: AttackPointFigure;
  readonly at: number;
  readonly lead: string | null;
}

function AttackPoint({ leg, point, at, lead }: AttackProps) {
  const counted = `${formatNumber(point.paces)} ${words.pace(walk.value.pace.steps)}`;
  return (
    <p {...pointing("attack", at)}>
      {lead !== null && (
        <AskAdvice figure="attackPoints">
          <b>{lead}</b>
        </AskAdvice>
      )}
      {adviceWords.goByLine(
        point.words,
        dialled(point.bearingTrueDeg, leg),
        formatAlong(point.distanceM, lengthUnit.value),
        counted,
      )}{" "}
      <button
        type="button"
        class="link"
        data-test="use-attack"
        onClick={() => shownLeg.value !== null && goBy(shownLeg.value, point.lonLat, point.words)}
      >
        {adviceWords.use}
      </button>
    </p>
  );
}

/** Offered while the leg is walked straight, and told while it is not. */
export function AimOff({ leg }: { readonly leg: LegFigures }) {
  const { aimOff } = leg;
  if (!aimOff) return null;
  return (
    <div class="aid aim-off" data-test="aim-off" {...pointing("aim")}>
      <p>
        <AskAdvice figure="aimOff">
          <b>{adviceWords.aimOff}</b>
        </AskAdvice>
        <AimOffLine leg={leg} aimOff={aimOff} />{" "}
        <button
          type="button"
          class="link"
          data-test="turn-aim-off"
          onClick={() => shownLeg.value !== null && chooseAimOff(shownLeg.value, !leg.aimsOff)}
        >
          {leg.aimsOff ? adviceWords.stopUsing : adviceWords.use}
        </button>
      </p>
      <HowAdvice figure="aimOff" leg={leg} />
    </div>
  );
}

const AimOffLine = ({ leg, aimOff }: { readonly leg: LegFigures; readonly aimOff: AimOffFigure }) => (
  <>
    {adviceWords.aimOffLine(
      `${formatNumber(aimOff.offsetDeg)}°`,
      aimOff.side,
      dialled(aimOff.bearingTrueDeg, leg),
    )}{" "}
    {aimOff.onReaching}
  </>
);
