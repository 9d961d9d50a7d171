/** What the settings make of one leg, beside the sentences that make it so. */
import { bearingToSet } from "../../core/legs/norths/bearing-to-set.ts";
import { type HowFigure, howOf } from "../../core/legs/how/how.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { clockOf } from "../../core/legs/times/zoned-clock.ts";
import { ABSENT, formatDuration, formatHeight, formatNumber } from "../../core/units/format.ts";
import { oddsWords } from "../../core/legs/aid-words.ts";
import { shownAdvice } from "../advice/advice-state.ts";
import { Bar } from "../advice/odds.tsx";
import { of100 } from "../advice/of-100.ts";
import { openMap } from "../map-case/map-case.ts";
import { thingName } from "../words/kind-words.ts";
import { adviceWords } from "../words/advice-words.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { gridAccuracy, knownGrid } from "../find/known-grids.ts";
import { textOrReason } from "../find/position-texts.ts";
import { CompassFace } from "../slip/compass-face.tsx";
import { NorthDiagram } from "../sums/north-diagram.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { words as windowWords } from "../words/words.ts";
import { type PreviewLeg, previewLeg } from "./preview-leg.ts";
import type { SheetId } from "./settings-state.ts";

const words = settingsWords.preview;

export function Preview({ sheet }: { readonly sheet: SheetId }) {
  const preview = previewLeg.value;
  if (!preview) return <aside class="settings-preview soft">{words.working}</aside>;
  const { leg, isExample } = preview;
  const Shown = {
    compass: OnCompass,
    declination: OnNorths,
    pace: OnPaces,
    time: OnTime,
    odds: OnOdds,
    places: OnPlaces,
  }[sheet];
  return (
    <aside class="settings-preview" aria-live="polite" data-test="settings-preview">
      <h3>{isExample ? words.example : words.leg(leg.n, leg.from, leg.to)}</h3>
      <Shown {...preview} />
    </aside>
  );
}

/** A figure with its name, and under it how it was worked out. */
function Line({
  name,
  value,
  test,
}: {
  readonly name: string;
  readonly value: string;
  readonly test: string;
}) {
  return (
    <p class="preview-line">
      <span class="soft">{name}</span> <b data-test={`preview-${test}`}>{value}</b>
    </p>
  );
}

function How({ figure, preview }: { readonly figure: HowFigure; readonly preview: PreviewLeg }) {
  return (
    <ul class="how-list soft">
      {howOf(figure, preview.leg, preview.table).map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}

const toSet = ({ leg }: PreviewLeg) => bearingToSet(leg, settings.value.compass, walk.value.north);

function OnCompass(preview: PreviewLeg) {
  const set = toSet(preview);
  return (
    <>
      <CompassFace compass={settings.value.compass} set={set} />
      <p class="preview-bearing" data-test="preview-bearing">
        {set.text}
      </p>
      <p data-test="preview-set">
        {set.words}, {set.backWords}
      </p>
      <How figure="bearing" preview={preview} />
    </>
  );
}

function OnNorths(preview: PreviewLeg) {
  const { leg } = preview;
  return (
    <>
      <NorthDiagram convergenceDeg={leg.gridConvergenceDeg ?? 0} declinationDeg={leg.declinationDeg} />
      <p data-test="preview-set">{toSet(preview).words}</p>
      <How figure="declination" preview={preview} />
    </>
  );
}

function OnPaces(preview: PreviewLeg) {
  const { leg } = preview;
  return (
    <>
      <Line name={words.distance} value={formatAlong(leg.distanceM, lengthUnit.value)} test="distance" />
      <Line name={windowWords.pace(walk.value.pace.steps)} value={formatNumber(leg.paces)} test="paces" />
      <How figure="paces" preview={preview} />
    </>
  );
}

function OnTime(preview: PreviewLeg) {
  const { leg, all, table } = preview;
  return (
    <>
      <Line name={words.time} value={formatDuration(leg.timeS)} test="time" />
      <Line name={words.arrival} value={clockOf(leg.arrival, table.date) ?? ABSENT} test="arrival" />
      <How figure="time" preview={preview} />
      <How figure="arrival" preview={preview} />
      {all.daylight && <How figure="daylight" preview={preview} />}
    </>
  );
}

function OnOdds({ leg }: PreviewLeg) {
  const { advice, isCurrent } = shownAdvice.value;
  const { preview } = adviceWords.settings;
  const unit = lengthUnit.value;
  const [rail, stop] = [leg.handrails[0], leg.backstop];
  return (
    <div class={isCurrent || !advice ? "" : "old"} aria-busy={!isCurrent}>
      {advice?.odds ? (
        <>
          <p data-test="preview-odds">{oddsWords(advice)}</p>
          <Bar parts={of100(advice.odds)} />
        </>
      ) : (
        <p class="soft">{openMap.value ? adviceWords.workingLong : adviceWords.odds.none}</p>
      )}
      <p class="soft working" role="status">
        {advice && !isCurrent ? adviceWords.working : "\u00a0"}
      </p>
      <Line
        name={windowWords.slip.follow}
        value={rail ? thingName(rail.kind, rail.name) : ABSENT}
        test="follow"
      />
      <Line
        name={windowWords.slip.stops}
        value={stop ? `${thingName(stop.kind, stop.name)}, ${formatAlong(stop.beyondM, unit)}` : ABSENT}
        test="stop"
      />
      <Line name={preview.mind} value={formatNumber(leg.hazards.length)} test="hazards" />
      <Line name={preview.marks} value={formatNumber(leg.steering.marks)} test="marks" />
      <Line
        name={preview.escape}
        value={advice?.escape ? formatAlong(advice.escape.worstM, unit) : ABSENT}
        test="escape"
      />
    </div>
  );
}

function OnPlaces({ leg }: PreviewLeg) {
  const { notation, gridName, grids } = settings.value;
  const unit = lengthUnit.value;
  const grid = notation === "grid" && gridName !== null ? knownGrid(gridName, grids) : null;
  return (
    <>
      <Line name={words.distance} value={formatAlong(leg.distanceM, unit)} test="distance" />
      <Line name={words.climb} value={formatHeight(leg.climbM, unit)} test="climb" />
      <Line name={words.end} value={textOrReason(leg.toLonLat, notation, settings.value)} test="position" />
      {grid && (
        <p class="soft">
          {gridAccuracy(grid.at(leg.toLonLat))} {grid.caution(leg.toLonLat)}
        </p>
      )}
    </>
  );
}
