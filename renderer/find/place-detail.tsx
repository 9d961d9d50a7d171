/** A place in full: every notation, its height, the way to it from the point that counts, and what all that rests on. */
import { Fault } from "../../core/fault.ts";
import { britishGrid, type GridPosition, toGrid } from "../../core/geodesy/grid.ts";
import { inverse } from "../../core/geodesy/geodesic.ts";
import { inOfferedArea } from "../../core/geodesy/offered-grids.ts";
import { toUtm } from "../../core/geodesy/utm.ts";
import { declinationsAt } from "../../core/legs/norths/declinations.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { trueToGrid, trueToMagnetic } from "../../core/units/angle.ts";
import { formatBearing, formatEastWest, formatHeight, formatNumber } from "../../core/units/format.ts";
import type { LonLat } from "../../core/units/position.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { changeSettings, lengthUnit, settings } from "../app/settings.ts";
import { referencePoint } from "../walk-state/selection.ts";
import { walk } from "../walk-state/walk-document.ts";
import { placeWords } from "../words/place-words.ts";
import { findWords } from "../words/find-words.ts";
import { lookedGround, lookedHeight } from "./find-state.ts";
import { gridAccuracy, knownGrid } from "./known-grids.ts";
import { positionLines } from "./position-texts.ts";
import type { Understood } from "./understand.ts";

export function PlaceDetail({ place }: { readonly place: Understood }) {
  const { notation } = settings.value;
  return (
    <div class="place-detail">
      <fieldset class="notation-lines">
        <legend class="unseen">{findWords.notationGroup}</legend>
        {positionLines(place.lonLat, settings.value, notation, place.precisionM).map((line) => (
          <label key={line.notation} title={findWords.notationHint}>
            <input
              type="radio"
              name="notation"
              checked={line.notation === notation}
              onChange={() => changeSettings({ notation: line.notation })}
            />
            <span class="soft">{line.label}</span>
            <span class="place-text" data-test={`place-${line.notation}`}>
              {line.text}
            </span>
          </label>
        ))}
      </fieldset>
      <dl class="place-figures">
        <dt class="soft">{findWords.elevation}</dt>
        <dd data-test="place-height">
          {lookedHeight.value === null
            ? findWords.noHeight
            : formatHeight(lookedHeight.value, lengthUnit.value)}
        </dd>
        <WayThere to={place.lonLat} />
        {lookedGround.value && (
          <>
            <dt class="soft">{placeWords.ground}</dt>
            <dd data-test="place-ground">
              {placeWords.heading(lookedGround.value.landform.kind, lookedGround.value.landform.name)}
            </dd>
          </>
        )}
      </dl>
      {lookedGround.value && (
        <p class="soft place-why" data-test="place-why">
          {lookedGround.value.landform.why}
        </p>
      )}
      <details>
        <summary>{findWords.detail}</summary>
        <ul data-test="place-how">
          {[...place.how, ...howOf(place.lonLat)].map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </details>
    </div>
  );
}

/** Bearing on the walk's north, and distance, from the picked or the last point. */
function WayThere({ to }: { readonly to: LonLat }) {
  const index = referencePoint.value;
  const from = index === null ? undefined : walk.value.points[index];
  if (index === null || !from) return null;
  const { bearing, distanceM } = inverse(from.lonLat, to);
  const { north, date, declination } = walk.value;
  const { convergenceDeg } = toUtm(from.lonLat);
  const turn = declinationsAt(from.lonLat, null, convergenceDeg, { date, declination }).deg;
  const text =
    distanceM < 1
      ? findWords.samePlace
      : `${
          north === "grid"
            ? `${formatBearing(trueToGrid(bearing, convergenceDeg))} ${findWords.norths.grid}`
            : north === "magnetic" && turn !== null
              ? `${formatBearing(trueToMagnetic(bearing, turn))} ${findWords.norths.magnetic}`
              : `${formatBearing(bearing)} ${findWords.norths.true}`
        }, ${formatAlong(distanceM, lengthUnit.value)}`;
  return (
    <>
      <dt class="soft">{findWords.from(pointLabel(walk.value, index))}</dt>
      <dd data-test="place-way">{text}</dd>
    </>
  );
}

function howOf(lonLat: LonLat): string[] {
  const utm = toUtm(lonLat);
  const { date, declination } = walk.value;
  const { deg, from } = declinationsAt(lonLat, lookedHeight.value, utm.convergenceDeg, { date, declination });
  const factors = ({ convergenceDeg, scale }: GridPosition): readonly [string, string] => [
    formatEastWest(convergenceDeg, 3),
    formatNumber(scale, 6),
  ];
  const { utm: utmWords, groundLength, zone } = findWords.how;
  const perKm = `${formatNumber(utm.scale * 1000, 2)}\u00a0m`;
  return [
    `${utmWords(zone(utm.zone), ...factors(utm))} ${groundLength(perKm)}`,
    ...(inOfferedArea("british", lonLat)
      ? [findWords.how.british(...factors(toGrid(britishGrid(), lonLat)), gridAccuracy(britishGrid()))]
      : []),
    ...ownGrid(lonLat, factors),
    ...(deg === null ? [] : [findWords.how.declination(formatEastWest(deg, 2), findWords.how.rules[from])]),
    ...(lookedHeight.value === null ? [] : [findWords.how.height]),
  ];
}

function ownGrid(lonLat: LonLat, factors: (at: GridPosition) => readonly [string, string]): string[] {
  const { gridName, grids } = settings.value;
  if (gridName === null || gridName === "british") return [];
  try {
    const known = knownGrid(gridName, grids);
    if (!known) return [];
    const grid = known.at(lonLat);
    const caution = known.caution(lonLat);
    const line = findWords.how.grid(grid.title, ...factors(toGrid(grid, lonLat)), gridAccuracy(grid));
    return caution ? [line, caution] : [line];
  } catch (thrown) {
    return [Fault.from(thrown).what];
  }
}
