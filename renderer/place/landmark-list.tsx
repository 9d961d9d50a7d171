/** Landmarks in view from a place, and those hidden with what hides them. */
import { Fault } from "../../core/fault.ts";
import { BARE_EARTH } from "../../core/terrain/line-of-sight.ts";
import { formatHeight, formatLength, isMetric } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { lengthUnit } from "../app/settings.ts";
import { placeWords } from "../words/place-words.ts";
import type { Landmark } from "../worker/ground-questions.ts";
import { CROWN_M } from "../worker/ground-questions.ts";
import { landmarkGroups } from "./landmark-rows.ts";
import { aheadOn, landmarkBearing, landmarkDistance } from "./landmark-text.ts";
import { landmarks, landmarksWanted } from "./place-state.ts";

export function LandmarkList({ from }: { readonly from: LonLat }) {
  const found = landmarks.value;
  return (
    <div class="landmarks" data-test="landmarks">
      <div class="landmarks-head">
        <h3>{placeWords.landmarks}</h3>
        <button type="button" class="button" onClick={() => (landmarksWanted.value = false)}>
          {placeWords.hideLandmarks}
        </button>
      </div>
      {found === null ? (
        <p role="status">{placeWords.lookingAround}</p>
      ) : found instanceof Fault ? (
        <p role="status">
          {found.what} {found.remedy}
        </p>
      ) : (
        <Found from={from} groups={landmarkGroups(found)} />
      )}
    </div>
  );
}

function Found({
  from,
  groups,
}: {
  readonly from: LonLat;
  readonly groups: ReturnType<typeof landmarkGroups>;
}) {
  const { inView, notKnown, hidden, more } = groups;
  const reach = placeWords.reach(isMetric(lengthUnit.value));
  if (inView.length + notKnown.length + hidden.length === 0) return <p>{placeWords.none(reach)}</p>;
  return (
    <>
      {inView.length === 0 && <p>{placeWords.noneInView(reach)}</p>}
      {inView.length > 0 && (
        <ol>
          {inView.map((one) => (
            <Row key={key(one)} from={from} landmark={one} />
          ))}
        </ol>
      )}
      <p class="soft" data-test="bare-earth">
        {placeWords.inView(formatHeight(CROWN_M, lengthUnit.value))} {BARE_EARTH}
      </p>
      {notKnown.length > 0 && (
        <>
          <h4>{placeWords.notKnown}</h4>
          <ol>
            {notKnown.map((one) => (
              <Row key={key(one)} from={from} landmark={one} />
            ))}
          </ol>
          <p class="soft">{notKnown[0]?.sight.reason}</p>
        </>
      )}
      {hidden.length > 0 && (
        <>
          <h4>{placeWords.hidden}</h4>
          <ol>
            {hidden.map((one) => (
              <li key={key(one)}>
                <span>{one.place.name}</span>
                <span class="landmark-away soft">
                  {placeWords.hiddenBy(formatLength(one.sight.hiddenByM, lengthUnit.value))}
                </span>
              </li>
            ))}
          </ol>
        </>
      )}
      {more > 0 && <p class="soft">{placeWords.more(more)}</p>}
    </>
  );
}

const key = ({ place }: Landmark): string => `${place.name} ${place.lonLat.join()}`;

function Row({ from, landmark }: { readonly from: LonLat; readonly landmark: Landmark }) {
  const ahead = aheadOn(from, landmark);
  const off = ahead && Math.round(Math.abs(ahead.offDeg));
  return (
    <li class={ahead ? "ahead" : ""} data-landmark={landmark.place.name}>
      <span>{landmark.place.name}</span>
      <b class="landmark-bearing">{landmarkBearing(from, landmark)}</b>
      <span class="landmark-away">{landmarkDistance(landmark)}</span>
      {ahead && off !== null && (
        <span class="landmark-ahead">
          {placeWords.ahead(ahead.leg, `${off}°`, off === 0 ? null : ahead.offDeg < 0 ? "left" : "right")}
        </span>
      )}
    </li>
  );
}
