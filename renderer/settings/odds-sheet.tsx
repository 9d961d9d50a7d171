/** How far one drifts, looks, sees and miscounts: what aids and odds go by, in sentences with blanks. */
import { type AidSettings, checkAids, USUAL_AIDS } from "../../core/legs/advice/aid-settings.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { formatNumber, formatShare, isMetric, typedNumber } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { changeAids } from "../advice/apply.ts";
import { changeSettings, lengthUnit, settings } from "../app/settings.ts";
import { adviceWords } from "../words/advice-words.ts";
import { settingsWords } from "../words/settings-words.ts";
import { DriftTrials } from "./drift-part.tsx";
import { Choice, Entry } from "./entry.tsx";
import { calibrations } from "./pace-trials.ts";
import { readNumber } from "./read-entry.ts";

const words = adviceWords.settings;
const { labels } = words;

type NumberKey = Exclude<keyof AidSettings, "steering" | "steepDeg" | "openHopM">;

/** @throws Fault "bad-argument" naming what cannot be, before anything is changed */
const change = (part: Partial<AidSettings>): void => {
  checkAids({ ...settings.value.aids, ...part });
  changeAids(part);
};

const degreesIn = (text: string, such: string): number => readNumber(text.replace(/\s*°\s*$/, ""), such);
const percentIn = (text: string): number => readNumber(text.replace(/\s*%\s*$/, ""), "5") / 100;
const lengthIn = (text: string): number => parseLength(text, isMetric(lengthUnit.value) ? "m" : "ft");

export function OddsSheet() {
  const usual = JSON.stringify(settings.value.aids) === JSON.stringify(USUAL_AIDS);
  return (
    <>
      <Drift />
      <Errors />
      <DriftTrials />
      <Walkers />
      <p class="soft">{words.spread}</p>
      <p class="whose soft">
        {settingsWords.ofPerson}{" "}
        <button
          type="button"
          class="button edged small"
          disabled={usual}
          data-test="usual-aids"
          onClick={() => changeSettings({ aids: USUAL_AIDS })}
        >
          {words.restore}
        </button>
      </p>
    </>
  );
}

function Drift() {
  const { steepDeg, openHopM } = settings.value.aids;
  return (
    <>
      <p class="sum">
        {words.drift} <Degrees of="driftDeg" practice /> {words.driftEnd}
      </p>
      <p class="sum">
        {words.follow} <Length of="handrailOffsetM" /> {words.followEnd} <Degrees of="handrailToleranceDeg" />{" "}
        {words.followLeast} <Length of="handrailMinM" /> {words.followLeastEnd} {words.stop}{" "}
        <Length of="backstopReachM" /> {words.stopEnd}
      </p>
      <p class="sum">
        {words.steep}{" "}
        <Entry
          label={labels.steepDeg}
          value={steepDeg.map((deg) => `${typedNumber(deg)}°`).join("; ")}
          least={9}
          take={(text) =>
            change({
              steepDeg: text
                .split(/;\s*|,\s+|,(?=\d+°)|\s+/)
                .filter((part) => part !== "" && part !== "°")
                .map((part) => degreesIn(part, "30; 35; 40")),
            })
          }
          test="aid-steepDeg"
        />{" "}
        <Usual text={USUAL_AIDS.steepDeg.map((deg) => `${deg}°`).join("; ")} /> {words.steepEnd}
      </p>
      <p class="sum">
        {words.marks} <Length of="hopM" practice /> {words.marksEnd}{" "}
        <Entry
          label={labels.openHopM}
          value={openHopM === null ? "" : formatAlong(openHopM, lengthUnit.value)}
          placeholder={words.asWoods}
          take={(text) => change({ openHopM: text.trim() === "" ? null : lengthIn(text) })}
          test="aid-openHopM"
        />{" "}
        {words.openEnd}
      </p>
    </>
  );
}

function Errors() {
  const { steering } = settings.value.aids;
  return (
    <>
      <p class="sum">
        {words.steering}{" "}
        <Choice
          label={adviceWords.odds.steering}
          value={steering}
          options={[
            ["marks", adviceWords.odds.steerings.marks],
            ["unaided", adviceWords.odds.steerings.unaided],
          ]}
          pick={(one) => change({ steering: one })}
          test="aid-steering"
        />
        . {words.withMarks} <Degrees of="settingDeg" practice /> {words.withMarksEnd}{" "}
        <Degrees of="hopDeg" practice /> {words.withMarksLast}
      </p>
      <p class="sum">
        {words.unaided} <Degrees of="unaidedSettingDeg" practice /> {words.unaidedEnd}{" "}
        <Degrees of="unaidedHopDeg" practice /> {words.unaidedHop} <Length of="unaidedHopM" />{" "}
        {words.unaidedLast}
      </p>
      <p class="sum">
        {words.pace}{" "}
        <Entry
          label={labels.paceError}
          value={formatShare(settings.value.aids.paceError, 1).replace(/\.0(?=\D|$)/, "")}
          take={(text) => change({ paceError: percentIn(text) })}
          test="aid-paceError"
        />{" "}
        <Usual text={formatShare(USUAL_AIDS.paceError)} practice /> {words.paceEnd} <FromTrials />
      </p>
      <p class="sum">
        {words.sight} <Length of="sightM" practice /> {words.sightEnd}
      </p>
    </>
  );
}

/** Fewer do not show a spread, by the manuals' own caution. */
const LEAST_TRIALS = 3;

function FromTrials() {
  const best = calibrations(settings.value.paceTrials)
    .filter(({ found }) => found.trials >= LEAST_TRIALS && found.error !== null)
    .toSorted((a, b) => b.found.trials - a.found.trials)[0]?.found;
  if (!best || best.error === null) return null;
  const error = Math.round(best.error * 1000) / 1000;
  return (
    <>
      {words.paceTrials(formatShare(error, 1), best.trials)}{" "}
      <button
        type="button"
        class="button edged small"
        disabled={error === settings.value.aids.paceError}
        data-test="use-spread"
        onClick={() => change({ paceError: error })}
      >
        {words.useTrials}
      </button>
    </>
  );
}

function Walkers() {
  const { walkers, flagBelow } = settings.value.aids;
  return (
    <>
      <p class="sum">
        {words.walkers}{" "}
        <Entry
          label={labels.walkers}
          value={formatNumber(walkers)}
          take={(text) => change({ walkers: readNumber(text.replace(/[\s,.'’]/g, ""), "10000") })}
          test="aid-walkers"
        />{" "}
        <Usual text={formatNumber(USUAL_AIDS.walkers)} /> {words.walkersEnd}{" "}
        <Entry
          label={labels.flagBelow}
          value={typedNumber(flagBelow * 100)}
          take={(text) => change({ flagBelow: percentIn(text) })}
          test="aid-flagBelow"
        />{" "}
        <Usual text={typedNumber(USUAL_AIDS.flagBelow * 100)} /> {words.flagEnd}
      </p>
      <p class="sum">
        {words.escape} <Length of="escapeReachM" />
        {words.escapeEnd}
      </p>
    </>
  );
}

interface BlankProps {
  readonly of: NumberKey;
  /** The usual value is common practice without a source. */
  readonly practice?: boolean;
}

function Degrees({ of, practice = false }: BlankProps) {
  return (
    <>
      <Entry
        label={labels[of]}
        value={`${typedNumber(settings.value.aids[of])}°`}
        take={(text) => change({ [of]: degreesIn(text, typedNumber(USUAL_AIDS[of])) })}
        test={`aid-${of}`}
      />{" "}
      <Usual text={`${USUAL_AIDS[of]}°`} practice={practice} />
    </>
  );
}

function Length({ of, practice = false }: BlankProps) {
  const unit = lengthUnit.value;
  return (
    <>
      <Entry
        label={labels[of]}
        value={formatAlong(settings.value.aids[of], unit)}
        take={(text) => change({ [of]: lengthIn(text) })}
        test={`aid-${of}`}
      />{" "}
      <Usual text={formatAlong(USUAL_AIDS[of], unit)} practice={practice} />
    </>
  );
}

/** What it is before anybody chose, and whether anybody vouches for that. */
const Usual = ({ text, practice = false }: { readonly text: string; readonly practice?: boolean }) => (
  <span class="usual soft" title={practice ? words.practice : words.noSource}>
    ({words.usual(text)}
    {practice ? "*" : ""})
  </span>
);
