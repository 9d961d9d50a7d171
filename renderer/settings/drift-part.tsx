/** Drift trials: entered, told as leaning and spread, taken over by odds and cone. */
import { useState } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import { formatAlong } from "../../core/legs/leg-words.ts";
import { DRIFT_STEERINGS, type DriftTrial } from "../../core/travel/drift-trials.ts";
import { formatNumber, isMetric } from "../../core/units/format.ts";
import { changeAids } from "../advice/apply.ts";
import { changeSettings, lengthUnit, settings } from "../app/settings.ts";
import { driftWords as words } from "../words/drift-words.ts";
import { type DriftEntry, drifts, readDrift, type SteeringDrift } from "./drift-trials.ts";
import { Choice, Reason } from "./entry.tsx";

const NOTHING: DriftEntry = { steering: "marks", distance: "", aside: "", side: "right" };
const degrees = (deg: number): string => `${formatNumber(deg, 1)}°`;

export function DriftTrials() {
  const { driftTrials: trials, aids } = settings.value;
  return (
    <section class="sum-group trials">
      <h3>{words.heading}</h3>
      <p class="soft">{words.lead}</p>
      <ul class="trial-list" data-test="drift-trials">
        {trials.length === 0 && <li class="soft">{words.none}</li>}
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
                onClick={() => changeSettings({ driftTrials: trials.toSpliced(i, 1) })}
              >
                ×
              </button>
            </li>
          );
        })}
      </ul>
      <NewTrial />
      {drifts(trials, aids).map((one) => (
        <Found key={one.steering} one={one} />
      ))}
    </section>
  );
}

function trialText({ steering, distanceM, asideM }: DriftTrial): string {
  const [how, distance] = [words.steerings[steering], formatAlong(distanceM, lengthUnit.value)];
  if (asideM === 0) return words.onMark(how, distance);
  const side = words.sides[asideM < 0 ? "left" : "right"];
  return words.trial(how, distance, formatAlong(Math.abs(asideM), lengthUnit.value), side);
}

function NewTrial() {
  const [entry, setEntry] = useState(NOTHING);
  const [fault, setFault] = useState<Fault | null>(null);
  const blank = (name: "distance" | "aside", label: string, placeholder: string) => (
    <input
      class="blank"
      type="text"
      aria-label={label}
      title={label}
      autocomplete="off"
      placeholder={placeholder}
      value={entry[name]}
      data-test={`drift-${name}`}
      onInput={({ currentTarget: { value } }) => {
        setEntry({ ...entry, [name]: value });
        setFault(null);
      }}
    />
  );
  const add = (): void => {
    try {
      const trial = readDrift(entry, isMetric(lengthUnit.value) ? "m" : "ft");
      changeSettings({ driftTrials: [...settings.value.driftTrials, trial] });
      setEntry({ ...entry, aside: "" });
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
        {words.walked}{" "}
        <Choice
          label={words.steering}
          value={entry.steering}
          options={DRIFT_STEERINGS.map((one) => [one, words.steerings[one]] as const)}
          pick={(steering) => setEntry({ ...entry, steering })}
          test="drift-steering"
        />{" "}
        {words.over} {blank("distance", words.distance, "100 m")} {words.i}{" "}
        {blank("aside", words.aside, "4 m")}{" "}
        <Choice
          label={words.side}
          value={entry.side}
          options={(["left", "right"] as const).map((one) => [one, words.sides[one]] as const)}
          pick={(side) => setEntry({ ...entry, side })}
          test="drift-side"
        />{" "}
        {words.of}{" "}
        <button type="submit" class="button edged small" data-test="drift-add">
          {words.add}
        </button>
      </p>
      {fault && <Reason fault={fault} />}
    </form>
  );
}

function Found({ one: { steering, found, aids } }: { readonly one: SteeringDrift }) {
  const how = words.steerings[steering];
  const { biasDeg, biasWithinDeg, spreadDeg, spreadFromToDeg } = found;
  const side = words.sides[biasDeg < 0 ? "left" : "right"];
  const [bias, within] = [degrees(Math.abs(biasDeg)), degrees(biasWithinDeg ?? 0)];
  const now = settings.value.aids;
  const used = Object.entries(aids).every(([key, value]) => now[key as keyof typeof now] === value);
  const [setting, hop] = [aids.settingDeg ?? aids.unaidedSettingDeg, aids.hopDeg ?? aids.unaidedHopDeg];
  return (
    <div class="found-pace" data-test={`drift-found-${steering}`}>
      <p>
        <b>
          {words.found(how, found.trials)} {words.off(degrees(found.offDeg))}
        </b>{" "}
        {spreadDeg !== null && spreadFromToDeg && (
          <span>
            {words.spread(degrees(spreadDeg), degrees(spreadFromToDeg[0]), degrees(spreadFromToDeg[1]))}{" "}
            {found.leans ? words.leans(side, bias, within) : words.straight(bias, side, within)}{" "}
            {words.use(degrees(setting ?? 0), degrees(hop ?? 0), degrees(aids.driftDeg ?? 0))}
          </span>
        )}
        {found.cautions.length > 0 && <span class="soft"> {found.cautions.join(" ")}</span>}
      </p>
      {spreadDeg !== null && (
        <button
          type="button"
          class="button edged small"
          aria-label={words.useFor(used ? words.used : words.useIt, how)}
          disabled={used}
          data-test={`drift-use-${steering}`}
          onClick={() => changeAids(aids)}
        >
          {used ? words.used : words.useIt}
        </button>
      )}
    </div>
  );
}
