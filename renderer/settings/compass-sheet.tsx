/** The person's compass: how it is marked, and whether declination is set on it. */
import { degreesToMils } from "../../core/units/mils.ts";
import type { North } from "../../core/walk/walk.ts";
import { COMPASS_MARKS_DEG, type CompassSettings } from "../../electron/contract.ts";
import { chooseNorth, NORTHS } from "../app/north.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { Choice, Radio } from "./entry.tsx";

const words = settingsWords.compass;
const UNITS = ["degrees", "quadrant", "mils"] as const;

const change = (part: Partial<CompassSettings>): void =>
  changeSettings({ compass: { ...settings.value.compass, ...part } });

/** Marks that a compass of the new unit has: the same where it can be, else its finest. */
function changeUnit(unit: CompassSettings["unit"]): void {
  const marks = COMPASS_MARKS_DEG[unit];
  const { graduationDeg } = settings.value.compass;
  change({
    unit,
    graduationDeg: marks.includes(graduationDeg) ? graduationDeg : (marks[0] as number),
  });
}

export function CompassSheet() {
  const { unit, graduationDeg, adjustable } = settings.value.compass;
  return (
    <>
      <p class="sum">
        {words.marked}{" "}
        <Choice
          label={words.unit}
          value={unit}
          options={UNITS.map((one) => [one, words.units[one]] as const)}
          pick={changeUnit}
          test="compass-unit"
        />
        {words.every}{" "}
        <Choice
          label={words.graduation}
          value={String(graduationDeg)}
          options={COMPASS_MARKS_DEG[unit].map(
            (mark) =>
              [
                String(mark),
                unit === "mils" ? words.mils(Math.round(degreesToMils(mark))) : words.degrees(mark),
              ] as const,
          )}
          pick={(mark) => change({ graduationDeg: Number(mark) })}
          test="compass-graduation"
        />
        .
      </p>
      <fieldset class="radio-list">
        <legend class="unseen">{words.declination}</legend>
        <Radio
          name="adjustable"
          chosen={!adjustable}
          pick={() => change({ adjustable: false })}
          test="compass-plain"
        >
          {words.plain}
        </Radio>
        <Radio
          name="adjustable"
          chosen={adjustable}
          pick={() => change({ adjustable: true })}
          test="compass-adjustable"
        >
          {words.adjustable}
        </Radio>
      </fieldset>
      <p class="whose soft">{settingsWords.ofPerson}</p>
      <p class="sum">
        {words.north}{" "}
        <Choice<North>
          label={words.northGroup}
          value={walk.value.north}
          options={NORTHS.map((one) => [one, words.norths[one]] as const)}
          pick={chooseNorth}
          test="settings-north"
        />{" "}
        {words.northEnd}
      </p>
      <p class="whose soft">{settingsWords.ofWalk}</p>
    </>
  );
}
