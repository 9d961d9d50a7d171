/** How far a track is thinned: a length written or slid, the number of legs beside it as it changes. */
import { useState } from "preact/hooks";
import { formatLength, isMetric, typedNumber } from "../../core/units/format.ts";
import { fromMetres, parseLength } from "../../core/units/length.ts";
import { lengthUnit } from "../app/settings.ts";
import { Tick } from "../print/tick.tsx";
import { exchangeWords } from "../words/exchange-words.ts";
import { given, thin, toleranceM } from "./import-state.ts";
import { metresAt, slideAt } from "./slide.ts";

const { in: say } = exchangeWords;
const FIRST_M = 20;

export function Thinning() {
  const now = toleranceM.value;
  return (
    <fieldset class="exchange-part">
      <legend class="unseen">{say.thin}</legend>
      <Tick on={now !== null} turn={(on) => thin(on ? FIRST_M : null)} test="thin">
        {say.thin}
      </Tick>
      {now !== null && <Tolerance now={now} />}
      <Legs thinned={now !== null} />
    </fieldset>
  );
}

function Tolerance({ now }: { readonly now: number }) {
  const unit = isMetric(lengthUnit.value) ? "m" : "ft";
  const text = `${typedNumber(Number(fromMetres(now, unit).toPrecision(3)))} ${unit}`;
  const [typed, setTyped] = useState<string | null>(null);
  const metres = typed === null ? now : lengthIn(typed, unit);
  return (
    <>
      <label class="tolerance">
        <span>{say.tolerance}</span>
        <input
          class="field"
          size={8}
          autocomplete="off"
          spellcheck={false}
          data-test="tolerance"
          aria-invalid={metres === null}
          value={typed ?? text}
          onInput={(event) => {
            const { value } = event.currentTarget;
            setTyped(value);
            const read = lengthIn(value, unit);
            if (read !== null) thin(read);
          }}
          onBlur={() => setTyped(null)}
        />
      </label>
      {metres === null && (
        <p class="map-fault" role="alert">
          {say.toleranceBad}
        </p>
      )}
      <input
        type="range"
        class="tolerance-slide"
        min={0}
        max={100}
        step={1}
        aria-label={say.toleranceSlide}
        aria-valuetext={text}
        data-test="tolerance-slide"
        value={slideAt(now)}
        onInput={(event) => {
          setTyped(null);
          thin(metresAt(event.currentTarget.valueAsNumber));
        }}
      />
    </>
  );
}

function lengthIn(text: string, unit: "m" | "ft"): number | null {
  try {
    const metres = parseLength(text, unit);
    return metres >= 0 && metres <= 100_000 ? metres : null;
  } catch {
    return null;
  }
}

function Legs({ thinned }: { readonly thinned: boolean }) {
  const found = given.value;
  if (!found?.walk) return null;
  const legs = Math.max(0, found.walk.points.length - 1);
  return (
    <p role="status" data-test="import-legs">
      {say.legs(legs, found.of)}
      {thinned && found.largestM > 0 && `. ${say.farthest(formatLength(found.largestM, lengthUnit.value))}`}
    </p>
  );
}
