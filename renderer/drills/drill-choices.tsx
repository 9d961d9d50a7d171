/** What is asked, how hard, where and at which scale, in sentences with blanks. */
import { DRILL_KINDS, type DrillKind, MOST_QUESTIONS } from "../../core/course/drills/drill.ts";
import { DRILL_LEVELS } from "../../core/course/drills/level.ts";
import { Fault } from "../../core/fault.ts";
import { formatScale, parseScale } from "../../core/units/scale.ts";
import { Tick } from "../print/tick.tsx";
import { Choice, Entry } from "../settings/entry.tsx";
import { readNumber } from "../settings/read-entry.ts";
import { walk } from "../walk-state/walk-document.ts";
import { drillWords } from "../words/drill-words.ts";
import { chooseDrill, drillChoices } from "./drill-state.ts";

const words = drillWords.asks;
/** A seed one can read out to a class. */
const SEEDS = 9999;

/** @throws Fault "bad-argument" for what is no whole number within the bounds */
function whole(text: string, most: number): number {
  const value = readNumber(text, "10");
  if (Number.isInteger(value) && value >= 1 && value <= most) return value;
  throw new Fault("bad-argument", `A whole number from 1 to ${most} is needed, not ${text.trim()}.`);
}

export function DrillChoices() {
  const { kinds, questions, level, place, scale, seed } = drillChoices.value;
  const turn = (kind: DrillKind, on: boolean): void =>
    chooseDrill({ kinds: DRILL_KINDS.filter((one) => (one === kind ? on : kinds.includes(one))) });
  const hasWalk = walk.value.points.length > 0;
  return (
    <fieldset class="print-part">
      <legend>{words.heading}</legend>
      <p class="sum">
        <Entry
          label={words.number}
          value={String(questions)}
          take={(text) => chooseDrill({ questions: whole(text, MOST_QUESTIONS) })}
          test="drill-number"
        />{" "}
        {words.questions}{" "}
        <Choice
          label={words.level}
          value={level}
          options={DRILL_LEVELS.map((one) => [one, words.levels[one]] as const)}
          pick={(one) => chooseDrill({ level: one })}
          test="drill-level"
        />
        , {words.within}{" "}
        <Choice
          label={words.where}
          value={place}
          options={(hasWalk || place === "walk" ? (["view", "walk"] as const) : (["view"] as const)).map(
            (one) => [one, words.places[one]] as const,
          )}
          pick={(one) => chooseDrill({ place: one })}
          test="drill-place"
        />{" "}
        {words.at}{" "}
        <Entry
          label={words.scale}
          value={formatScale(scale)}
          take={(text) => chooseDrill({ scale: parseScale(text) })}
          least={8}
          test="drill-scale"
        />
        .
      </p>
      {DRILL_KINDS.map((kind) => (
        <Tick key={kind} on={kinds.includes(kind)} turn={(on) => turn(kind, on)} test={`drill-${kind}`}>
          {words.kinds[kind]}
        </Tick>
      ))}
      <p>
        <button
          type="button"
          class="button small edged"
          data-test="drill-all"
          onClick={() => chooseDrill({ kinds: DRILL_KINDS })}
        >
          {words.all}
        </button>{" "}
        <button
          type="button"
          class="button small edged"
          data-test="drill-none"
          onClick={() => chooseDrill({ kinds: [] })}
        >
          {words.none}
        </button>
      </p>
      <p class="sum">
        {words.set}{" "}
        <Entry
          label={words.seed}
          value={String(seed)}
          take={(text) => chooseDrill({ seed: whole(text, SEEDS) })}
          test="drill-seed"
        />{" "}
        <button
          type="button"
          class="button small edged"
          data-test="drill-another"
          onClick={() => chooseDrill({ seed: (seed % SEEDS) + 1 })}
        >
          {words.another}
        </button>
      </p>
      <p class="soft">{words.same}</p>
    </fieldset>
  );
}
