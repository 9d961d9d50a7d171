/** What exercise is set, on which ground, and what learners are told, in sentences with blanks. */
import { Fault } from "../../core/fault.ts";
import { formatBearing, formatNumber } from "../../core/units/format.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { Choice, Entry } from "../settings/entry.tsx";
import { readNumber } from "../settings/read-entry.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fieldWords } from "../words/field-words.ts";
import { chooseField, fieldChoices, fixedStakes, SHAPES } from "./field-state.ts";

const words = fieldWords.asks;
/** A seed one can read out to a class. */
const SEEDS = 9999;
const MOST_STAKES = 20;

/** @throws Fault "bad-argument" for what is no whole number within the bounds */
function whole(text: string, least: number, most: number): number {
  const value = readNumber(text, String(least));
  if (Number.isInteger(value) && value >= least && value <= most) return value;
  throw new Fault("bad-argument", `A whole number from ${least} to ${most} is needed, not ${text.trim()}.`);
}

export function FieldChoices() {
  const { seed } = fieldChoices.value;
  return (
    <fieldset class="print-part">
      <legend>{words.heading}</legend>
      <ShapeSentence />
      <GroundSentence />
      <PacesSentence />
      <p class="sum">
        {words.set}{" "}
        <Entry
          label={words.seed}
          value={String(seed)}
          take={(text) => chooseField({ seed: whole(text, 1, SEEDS) })}
          test="field-seed"
        />{" "}
        <button
          type="button"
          class="button small edged"
          data-test="field-another"
          onClick={() => chooseField({ seed: (seed % SEEDS) + 1 })}
        >
          {words.another}
        </button>
      </p>
      <p class="soft">{words.same}</p>
    </fieldset>
  );
}

function ShapeSentence() {
  const { shape, stakes, legM, stepDeg } = fieldChoices.value;
  const fixed = fixedStakes(shape);
  return (
    <p class="sum">
      <Choice
        label={words.shape}
        value={shape}
        options={SHAPES.map((one) => [one, words.shapes[one]] as const)}
        pick={(one) => chooseField({ shape: one })}
        test="field-shape"
      />{" "}
      {fixed === null && (
        <>
          {words.with}{" "}
          <Entry
            label={words.stakes}
            value={String(stakes)}
            take={(text) => chooseField({ stakes: whole(text, 2, MOST_STAKES) })}
            test="field-stakes"
          />{" "}
          {words.stakesEnd}{" "}
        </>
      )}
      {words.legs}{" "}
      <Entry
        label={words.least}
        value={String(legM[0])}
        take={(text) => chooseField({ legM: [whole(text, 10, 1000), legM[1]] })}
        test="field-least"
      />{" "}
      {words.to}{" "}
      <Entry
        label={words.most}
        value={String(legM[1])}
        take={(text) => chooseField({ legM: [legM[0], whole(text, 10, 1000)] })}
        test="field-most"
      />{" "}
      {words.legsEnd}{" "}
      <Entry
        label={words.step}
        value={String(stepDeg)}
        take={(text) => chooseField({ stepDeg: whole(text, 1, 30) })}
        test="field-step"
      />
      {words.stepEnd}
    </p>
  );
}

function GroundSentence() {
  const { lengthM, widthM, alongDeg } = fieldChoices.value;
  return (
    <p class="sum">
      {words.ground}{" "}
      <Entry
        label={words.length}
        value={String(lengthM)}
        take={(text) => chooseField({ lengthM: whole(text, 20, 2000) })}
        test="field-length"
      />{" "}
      {words.by}{" "}
      <Entry
        label={words.width}
        value={String(widthM)}
        take={(text) => chooseField({ widthM: whole(text, 20, 2000) })}
        test="field-width"
      />{" "}
      {words.along}{" "}
      <Entry
        label={words.alongLabel}
        value={formatBearing(alongDeg, { threeFigures: true })}
        take={(text) => chooseField({ alongDeg: parseBearing(text) })}
        test="field-along"
      />{" "}
      {words.alongEnd}
    </p>
  );
}

function PacesSentence() {
  const { whose, other } = fieldChoices.value;
  const { per100m, steps } = walk.value.pace;
  return (
    <p class="sum">
      {words.paces}{" "}
      <Choice
        label={words.pacesLabel}
        value={whose}
        options={(["own", "walk", "other"] as const).map((one) => [one, words.whose[one]] as const)}
        pick={(one) => chooseField({ whose: one })}
        test="field-whose"
      />{" "}
      {whose === "walk" && (
        <span class="soft">
          {words.walkPaces(formatNumber(per100m, Number.isInteger(per100m) ? 0 : 1), steps === 2)}
        </span>
      )}
      {whose === "other" && (
        <>
          <Entry
            label={words.count}
            value={String(other.per100m)}
            take={(text) => chooseField({ other: { ...other, per100m: whole(text, 30, 250) } })}
            test="field-count"
          />{" "}
          {words.countEnd}{" "}
          <Choice
            label={words.steps}
            value={other.steps === 2 ? "2" : "1"}
            options={[
              ["2", words.stepsOf[2]],
              ["1", words.stepsOf[1]],
            ]}
            pick={(one) => chooseField({ other: { ...other, steps: one === "2" ? 2 : 1 } })}
            test="field-counted"
          />
        </>
      )}
    </p>
  );
}
