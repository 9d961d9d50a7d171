/** The place after legs on bearings, and how it grows less sure on the way. */
import { Fault } from "../../core/fault.ts";
import { fixWords } from "../words/fix-words.ts";
import { Cautions, PlaceActions, placeText, ShowButton } from "./found-place.tsx";
import { LegsPart } from "./legs-part.tsx";
import { Said, Warnings } from "./said.tsx";
import { reachOf } from "./show-found.ts";
import { shownLength, sureText } from "./sure-text.ts";
import { reckoned } from "./walked.ts";

export function ReckonPart() {
  const found = reckoned.value;
  return (
    <>
      <LegsPart />
      <Said found={found} waiting={fixWords.waitingLegs} />
      {found && !(found instanceof Fault) && (
        <div class="fix-result">
          <p>
            {fixWords.place} <b data-test="fix-place">{placeText(found.end.at)}</b>
          </p>
          <ShowButton
            places={found.places.flatMap(({ at, ellipse95 }) => reachOf(at, ellipse95.semiMajorM))}
          />
          <p data-test="fix-sure">{sureText(found.end.ellipse95)}</p>
          <ul class="fix-off" data-test="fix-legs">
            {legEnds(found.places).map(({ leg, walkedM, ellipse95 }) => (
              <li key={leg}>
                <b>{fixWords.afterLeg(leg)}</b>{" "}
                <span class="soft">
                  {fixWords.growing(
                    shownLength(walkedM),
                    shownLength(ellipse95.semiMajorM),
                    shownLength(ellipse95.semiMinorM),
                  )}
                </span>
              </li>
            ))}
          </ul>
          <Warnings of={[...found.notes, fixWords.onlyCounted]} />
          <PlaceActions at={found.end.at} n={null} />
          <Cautions />
        </div>
      )}
    </>
  );
}

/** The last place of each leg. */
const legEnds = <P extends { readonly leg: number }>(places: readonly P[]): readonly P[] =>
  places.filter(({ leg }, i) => leg > 0 && places[i + 1]?.leg !== leg);
