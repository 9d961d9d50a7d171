/** When one sets out and must be back, by whose clock, and how walking time is worked out. */
import { typedNumber } from "../../core/units/format.ts";
import { useId } from "preact/hooks";
import {
  TIME_METHODS,
  type TimeFactors,
  type TimeMethod,
  walkingTimeS,
  withFactors,
} from "../../core/travel/walking-time.ts";
import { formatDuration } from "../../core/units/format.ts";
import {
  setBackBy,
  setStartTime,
  setTimeFactors,
  setTimeMethod,
  setTimeZone,
} from "../../core/walk/edits.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { DayField } from "../app/day-field.tsx";
import { Entry, Radio } from "./entry.tsx";
import { previewLeg } from "./preview-leg.ts";
import { readClock, readNumber } from "./read-entry.ts";
import { changeWalk } from "./walk-change.ts";

const words = settingsWords.time;
const { steps } = settingsWords;

export function TimeSheet() {
  return (
    <>
      <Hours />
      <Methods />
      <Factors />
      <p class="whose soft">{settingsWords.ofWalk}</p>
    </>
  );
}

function Hours() {
  const { startTime, backBy, timeZone } = walk.value;
  const zones = useId();
  const own = new Intl.DateTimeFormat().resolvedOptions().timeZone;
  return (
    <p class="sum">
      {words.start}{" "}
      <Entry
        label={words.startLabel}
        value={startTime ?? ""}
        placeholder={words.noStart}
        take={(text) => {
          const clock = readClock(text);
          changeWalk(steps.start, (now) => setStartTime(now, clock));
        }}
        test="start-time"
      />{" "}
      {words.on} <DayField class="blank" /> {words.back}{" "}
      <Entry
        label={words.backLabel}
        value={backBy ?? ""}
        placeholder={words.sunset}
        take={(text) => {
          const clock = readClock(text);
          changeWalk(steps.backBy, (now) => setBackBy(now, clock));
        }}
        test="back-by"
      />
      {words.zone}{" "}
      <Entry
        label={words.zoneLabel}
        value={timeZone ?? ""}
        placeholder={words.computer(own)}
        least={12}
        list={zones}
        take={(text) => changeWalk(steps.zone, (now) => setTimeZone(now, text.trim() || null))}
        test="time-zone"
      />
      .
      <datalist id={zones}>
        {Intl.supportedValuesOf("timeZone").map((zone) => (
          <option key={zone} value={zone} />
        ))}
      </datalist>
    </p>
  );
}

function Methods() {
  const { timeMethod, timeFactors } = walk.value;
  const preview = previewLeg.value;
  return (
    <fieldset class="radio-list methods">
      <legend>{words.method}</legend>
      {(Object.keys(TIME_METHODS) as TimeMethod[]).map((method) => {
        const bare = preview && walkingTimeS(method, preview.leg);
        return (
          <div key={method} class="method">
            <Radio
              name="method"
              chosen={timeMethod === method}
              pick={() => changeWalk(steps.method, (now) => setTimeMethod(now, method))}
              test={`method-${method}`}
            >
              <b>{TIME_METHODS[method].title}</b> <span class="soft">{TIME_METHODS[method].rule}</span>
            </Radio>
            <span class="method-time" title={words.thisLeg} data-test={`time-${method}`}>
              {formatDuration(bare === null ? null : withFactors(bare, timeFactors))}
            </span>
          </div>
        );
      })}
    </fieldset>
  );
}

function Factors() {
  const { timeFactors } = walk.value;
  const blank = (name: keyof TimeFactors, label: string) => (
    <Entry
      label={label}
      value={typedNumber(timeFactors[name])}
      take={(text) => {
        const figure = readNumber(text, name === "breakMinPerHour" ? "10" : "1.2");
        changeWalk(steps.factors, (now) => setTimeFactors(now, { ...now.timeFactors, [name]: figure }));
      }}
      test={`factor-${name}`}
    />
  );
  return (
    <p class="sum">
      {words.factors} {blank("party", words.party)} {words.partyEnd} {blank("load", words.load)}{" "}
      {words.loadEnd} {blank("surface", words.surface)} {words.surfaceEnd}{" "}
      {blank("breakMinPerHour", words.rest)} {words.restEnd}
    </p>
  );
}
