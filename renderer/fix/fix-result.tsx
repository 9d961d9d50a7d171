/** The place that follows from the bearings, how surely it is known, what is wrong in words, and a point put there. */
import type { Fix } from "../../core/fix/fix.ts";
import { FIX_CAUTIONS } from "../../core/fix/words.ts";
import { formatBearing, formatLength, formatNumber } from "../../core/units/format.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { offMap } from "../find/off-map.ts";
import { textOrReason } from "../find/position-texts.ts";
import { openMap } from "../map-case/map-case.ts";
import { addPointAt } from "../map/draw.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fixWords } from "../words/fix-words.ts";
import { fixDone } from "./fix-state.ts";

export function FixResult({ fix }: { readonly fix: Fix }) {
  const { at, ellipse95, bearings, warnings } = fix;
  const unit = lengthUnit.value;
  const length = (metres: number): string => formatLength(metres, unit);
  const letter = pointLetter(walk.value.points.length);
  const map = openMap.value;
  const off = map && offMap(at, map.info.bounds);
  return (
    <div class="fix-result">
      <p>
        {fixWords.place}{" "}
        <b data-test="fix-place">{textOrReason(at, settings.value.notation, settings.value, 1)}</b>
      </p>
      {off && <p class="sum-fault">{fixWords.offMap}</p>}
      <p data-test="fix-sure">
        {fixWords.sure(
          length(ellipse95.semiMajorM),
          length(ellipse95.semiMinorM),
          formatBearing(ellipse95.bearing),
          formatBearing(ellipse95.bearing + 180),
        )}
      </p>
      <ul class="fix-off">
        {bearings.map(({ name, distanceM, residualDeg }, i) => (
          <li key={i}>
            <b>{name}</b>{" "}
            <span class="soft">
              {bearings.length > 2
                ? fixWords.off(`${formatNumber(residualDeg, 1)}°`, length(distanceM))
                : fixWords.offTwo(length(distanceM))}
            </span>
          </li>
        ))}
      </ul>
      {warnings.length > 0 && (
        <ul class="fix-warnings" aria-label={fixWords.warnings} data-test="fix-warnings">
          {warnings.map(({ code, words }) => (
            <li key={code + words} class="sum-fault">
              {words}
            </li>
          ))}
        </ul>
      )}
      <button
        type="button"
        class="button strong"
        data-test="fix-add"
        onClick={() => {
          addPointAt(at);
          fixDone.value = fixWords.added(letter);
        }}
      >
        {fixWords.addPoint(letter)}
      </button>
      <h3>{fixWords.cautions}</h3>
      <ul class="rules" data-test="fix-cautions">
        {FIX_CAUTIONS.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </div>
  );
}
