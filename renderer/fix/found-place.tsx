/** One place found: where, whether it is on the map, put into the walk or copied; and what to mind before it is trusted. */
import { FIX_CAUTIONS } from "../../core/fix/words.ts";
import type { LonLat } from "../../core/units/position.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { settings } from "../app/settings.ts";
import { copyText } from "../exchange/clipboard.ts";
import { offMap } from "../find/off-map.ts";
import { textOrReason } from "../find/position-texts.ts";
import { openMap } from "../map-case/map-case.ts";
import { addPointAt } from "../map/draw.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fixWords } from "../words/fix-words.ts";
import { fixDone } from "./fix-state.ts";
import { showFound } from "./show-found.ts";

export const placeText = (at: LonLat): string => textOrReason(at, settings.value.notation, settings.value, 1);

/** @param n rank among several; null for the one place */
export function PlaceActions({ at, n }: { readonly at: LonLat; readonly n: number | null }) {
  const letter = pointLetter(walk.value.points.length);
  const map = openMap.value;
  const end = n === null ? "" : `-${n}`;
  return (
    <>
      {map && offMap(at, map.info.bounds) && <p class="sum-fault">{fixWords.offMap}</p>}
      <span class="fix-line">
        <button
          type="button"
          class={`button ${n === null ? "strong" : "edged"}`}
          data-test={`fix-add${end}`}
          onClick={() => {
            addPointAt(at);
            fixDone.value = fixWords.added(letter);
          }}
        >
          {fixWords.addPoint(letter)}
        </button>
        <button
          type="button"
          class="button edged"
          data-test={`fix-copy${end}`}
          onClick={() => {
            const text = placeText(at);
            fixDone.value = copyText({ text }) ? fixWords.copied(text) : fixWords.notCopied;
          }}
        >
          {fixWords.copy}
        </button>
      </span>
    </>
  );
}

/** @param places all that is drawn of it */
export function ShowButton({ places }: { readonly places: readonly LonLat[] }) {
  return (
    <button
      type="button"
      class="button edged fix-show"
      data-test="fix-show"
      onClick={() => showFound(places)}
    >
      {fixWords.show}
    </button>
  );
}

export function Cautions() {
  return (
    <>
      <h3>{fixWords.cautions}</h3>
      <ul class="rules" data-test="fix-cautions">
        {FIX_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </>
  );
}
