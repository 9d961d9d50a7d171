/** The place that follows from the bearings, how surely it is known, what is wrong in words. */
import { Fault } from "../../core/fault.ts";
import { formatNumber } from "../../core/units/format.ts";
import { fixWords } from "../words/fix-words.ts";
import { found } from "./bearing-rows.ts";
import { Cautions, PlaceActions, placeText, ShowButton } from "./found-place.tsx";
import { Warnings } from "./said.tsx";
import { reachOf } from "./show-found.ts";
import { shownLength, sureText } from "./sure-text.ts";

export function FixResult() {
  const fix = found.value;
  if (!fix || fix instanceof Fault) return null;
  const { at, ellipse95, bearings, warnings } = fix;
  return (
    <div class="fix-result">
      <p>
        {fixWords.place} <b data-test="fix-place">{placeText(at)}</b>
      </p>
      <ShowButton places={[...reachOf(at, ellipse95.semiMajorM), ...bearings.map(({ known }) => known)]} />
      <p data-test="fix-sure">{sureText(ellipse95)}</p>
      <ul class="fix-off">
        {bearings.map(({ name, distanceM, residualDeg }, i) => (
          <li key={i}>
            <b>{name}</b>{" "}
            <span class="soft">
              {bearings.length > 2
                ? fixWords.off(`${formatNumber(residualDeg, 1)}°`, shownLength(distanceM))
                : fixWords.offTwo(shownLength(distanceM))}
            </span>
          </li>
        ))}
      </ul>
      <Warnings of={warnings.map(({ words }) => words)} />
      <PlaceActions at={at} n={null} />
      <Cautions />
    </div>
  );
}
