/** The way out: one bearing that ends on a big line from anywhere on the leg, or on the walk. */
import type { EscapeFigure } from "../../core/legs/advice/advice.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { lengthUnit } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { figures } from "../walk-state/figures.ts";
import { theThing } from "../words/kind-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { shownAdvice, walkWayOut } from "./advice-state.ts";
import { AskAdvice, HowAdvice } from "./ask-advice.tsx";
import { dialled } from "./dialled.ts";
import { Fold } from "./fold.tsx";
import { pointing } from "./pointed-aid.ts";

const words = adviceWords.escape;

/** "268° magnetic to Dale Road, 1,470 m at most" */
const escapeLine = (
  escape: EscapeFigure,
  leg: Pick<LegFigures, "declinationDeg" | "gridConvergenceDeg">,
): string =>
  words.line(
    dialled(escape.bearingTrueDeg, leg),
    theThing(escape.kind, escape.name),
    formatAlong(escape.worstM, lengthUnit.value),
  );

export function WayOut({ leg }: { readonly leg: LegFigures }) {
  const { advice, isCurrent } = shownAdvice.value;
  if (!openMap.value || leg.bearingTrueDeg === null || !advice) return null;
  const { escape } = advice;
  return (
    <div class={isCurrent ? "" : "old"} data-test="way-out" {...pointing("escape")}>
      <Fold id="escape" title={words.title} sum={escape ? dialled(escape.bearingTrueDeg, leg) : "–"}>
        <p>
          <AskAdvice figure="escape">
            <b>{escape ? `${escapeLine(escape, leg)}.` : words.none}</b>
          </AskAdvice>
        </p>
        <HowAdvice figure="escape" leg={leg} />
        {escape && <Between escape={escape} />}
        {advice.notes.map((note) => (
          <p key={note} class="soft small-print">
            {note}
          </p>
        ))}
        <OfWalk />
      </Fold>
    </div>
  );
}

function Between({ escape: { between, worstDriftedM } }: { readonly escape: EscapeFigure }) {
  return (
    <p>
      {/* What does lie between stands in the notes. */}
      {between.length === 0 && words.clear}{" "}
      {worstDriftedM !== null && words.drifted(formatAlong(worstDriftedM, lengthUnit.value))}
    </p>
  );
}

function OfWalk() {
  const line = walkWayOutLine();
  return line === null ? null : (
    <p data-test="walk-way-out">
      <b>{words.walkTitle}</b>: {line}.
    </p>
  );
}

/** For the slip and for the leg table's foot; null until it is known, and for a walk of one leg. */
export function walkWayOutLine(): string | null {
  const out = walkWayOut.value;
  const legs = figures.value?.legs ?? [];
  const first = legs[0];
  if (!out || !out.isCurrent || !first || legs.length < 2) return null;
  return out.escape ? escapeLine(out.escape, first) : (out.notes[0] ?? words.noneWalk).replace(/\.$/, "");
}
