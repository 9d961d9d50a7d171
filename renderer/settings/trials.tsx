/** Counted trials with their mean and spread, ready to be used. */
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import type { PaceGround } from "../../core/travel/pace-calibration.ts";
import { formatNumber, formatShare } from "../../core/units/format.ts";
import { setPace } from "../../core/walk/edits.ts";
import type { PaceTrialOnGround } from "../../electron/contract.ts";
import { changeSettings, lengthUnit, settings } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { Choice, Reason } from "./entry.tsx";
import {
  calibrations,
  type GroundPace,
  PACE_GROUNDS,
  paceWith,
  readTrial,
  type TrialEntry,
} from "./pace-trials.ts";
import { changeWalk } from "./walk-change.ts";

const words = settingsWords.pace;
const NOTHING: TrialEntry = { ground: "flat", distance: "", paces: "", took: "" };

export function Trials() {
  const trials = settings.value.paceTrials;
  return (
    <section class="sum-group trials">
      <h3>{words.trials}</h3>
      <p class="soft">{words.trialsLead}</p>
      <ul class="trial-list" data-test="trials">
        {trials.length === 0 && <li class="soft">{words.noTrials}</li>}
        {trials.map((trial, i) => {
          const text = trialText(trial);
          return (
            <li key={i}>
              <span>{text}</span>
              <button
                type="button"
                class="button small"
                aria-label={words.remove(text)}
                title={words.remove(text)}
                onClick={() => changeSettings({ paceTrials: trials.toSpliced(i, 1) })}
              >
                ×
              </button>
            </li>
          );
        })}
      </ul>
      <NewTrial />
      {calibrations(trials).map((one) => (
        <Found key={one.ground} one={one} />
      ))}
    </section>
  );
}

function trialText({ ground, distanceM, paces, seconds }: PaceTrialOnGround): string {
  const whole = seconds === null ? null : Math.round(seconds);
  const took =
    whole === null ? null : `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}\u00a0min`;
  return words.trial(
    words.grounds[ground],
    formatAlong(distanceM, lengthUnit.value),
    formatNumber(paces),
    took,
  );
}

function NewTrial() {
  const [entry, setEntry] = useState(NOTHING);
  const [fault, setFault] = useState<Fault | null>(null);
  const blank = (name: Exclude<keyof TrialEntry, "ground">, label: string, placeholder: string) => (
    <input
      class="blank"
      type="text"
      aria-label={label}
      title={label}
      autocomplete="off"
      placeholder={placeholder}
      value={entry[name]}
      data-test={`trial-${name}`}
      onInput={({ currentTarget: { value } }) => {
        setEntry({ ...entry, [name]: value });
        setFault(null);
      }}
    />
  );
  const add = (): void => {
    try {
      const trial = readTrial(entry);
      changeSettings({ paceTrials: [...settings.value.paceTrials, trial] });
      setEntry({ ...NOTHING, ground: entry.ground, distance: entry.distance });
      setFault(null);
    } catch (thrown) {
      setFault(Fault.from(thrown));
    }
  };
  return (
    <form
      class="new-trial"
      onSubmit={(event) => {
        event.preventDefault();
        add();
      }}
    >
      <p class="sum">
        {words.on}{" "}
        <Choice<PaceGround>
          label={words.ground}
          value={entry.ground}
          options={PACE_GROUNDS.map((ground) => [ground, words.grounds[ground]] as const)}
          pick={(ground) => setEntry({ ...entry, ground })}
          test="trial-ground"
        />{" "}
        {words.over} {blank("distance", words.distance, "100 m")} {words.iCounted}{" "}
        {blank("paces", words.counted, "66")} {words.in} {blank("took", words.took, "1:25")}.{" "}
        <button type="submit" class="button edged small" data-test="trial-add">
          {words.add}
        </button>
      </p>
      {fault && <Reason fault={fault} />}
    </form>
  );
}

function Found({ one }: { readonly one: GroundPace }) {
  const { ground, found } = one;
  const mean = formatNumber(found.per100m, 1);
  const name = words.grounds[ground];
  const { pace } = walk.value;
  const used = JSON.stringify(paceWith(pace, one)) === JSON.stringify(pace);
  return (
    <div class="found-pace" data-test={`found-${ground}`}>
      <p>
        <b>{words.mean(name, mean)}</b>{" "}
        {found.spreadPer100m !== null && (
          <span>{words.spread(formatNumber(found.spreadPer100m, 1), formatShare(found.error, 1))}</span>
        )}
        {found.speed !== null && (
          <span class="soft"> · {words.speed(formatNumber(found.speed * 3.6, 1))}</span>
        )}
        {found.cautions.length > 0 && <span class="soft"> {found.cautions.join(" ")}</span>}
      </p>
      <button
        type="button"
        class="button edged small"
        aria-label={words.useFor(mean, name)}
        disabled={used}
        data-test={`use-${ground}`}
        onClick={() => changeWalk(settingsWords.steps.trials, (now) => setPace(now, paceWith(now.pace, one)))}
      >
        {used ? words.used : words.use}
      </button>
    </div>
  );
}
