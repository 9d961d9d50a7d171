/** Likely places, the likeliest first, each with its reason, the way on, and what can be done with it. */
import { Fault } from "../../core/fault.ts";
import { formatShare } from "../../core/units/format.ts";
import { fixWords } from "../words/fix-words.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { Spots } from "./fix-messages.ts";
import { Cautions, PlaceActions, placeText, ShowButton } from "./found-place.tsx";
import { Warnings } from "./said.tsx";
import { reachOf } from "./show-found.ts";
import { spots } from "./spots-state.ts";
import { dialled, shownLength } from "./sure-text.ts";

export function SpotList() {
  const found = spots.value;
  if (!found || found instanceof Fault) return null;
  return (
    <div class="fix-result">
      {found.spots.length > 0 && <ShowButton places={drawn(found)} />}
      <Warnings of={found.warnings} />
      <ol class="fix-spots" data-test="fix-spots">
        {found.spots.map((spot, i) => (
          <li key={i} data-test={`fix-spot-${i + 1}`}>
            <span class="fix-rank">{i + 1}</span>
            <div class="fix-group">
              <p>
                <b>{placeText(spot.at)}</b>{" "}
                <span class="soft">{fixWords.chance(formatShare(spot.probability))}</span>
              </p>
              <p>{spot.why}</p>
              {spot.onward && (
                <p data-test={`fix-onward-${i + 1}`}>
                  {fixWords.onward(dialled(spot.onward.bearing, spot.at), shownLength(spot.onward.distanceM))}
                </p>
              )}
              <PlaceActions at={spot.at} n={i + 1} />
            </div>
          </li>
        ))}
      </ol>
      {found.spots.length > 0 && <p class="soft">{fixWords.chanceOf}</p>}
      <Cautions />
    </div>
  );
}

const drawn = ({ spots: those, reckoned }: Spots): LonLat[] => [
  ...those.flatMap(({ stretches }) => stretches.flat()),
  ...(reckoned ? reachOf(reckoned.at, reckoned.ellipse95.semiMajorM) : []),
];
