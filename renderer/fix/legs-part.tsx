/** What was walked: from where, and a line for each leg. */
import { formatNumber } from "../../core/units/format.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fixWords } from "../words/fix-words.ts";
import { BearingField } from "./bearing-field.tsx";
import { fixDone } from "./fix-state.ts";
import { FaultLine, PlaceField } from "./place-field.tsx";
import {
  addLeg,
  changeLeg,
  from,
  type LegRow,
  LENGTHS,
  legs,
  mayAddLeg,
  readFrom,
  readLegs,
} from "./walked.ts";

export function LegsPart() {
  return (
    <>
      <PlaceField
        id="from"
        label={fixWords.from}
        lead={fixWords.from}
        value={from.value}
        change={(text) => {
          fixDone.value = null;
          from.value = text;
        }}
      />
      <FaultLine of={readFrom.value} />
      <ol class="fix-rows" aria-label={fixWords.legs}>
        {legs.value.map((leg, i) => (
          <li key={i}>
            <span class="fix-line fix-leg">
              <BearingField
                test={[`leg-bearing-${i + 1}`, `leg-north-${i + 1}`]}
                label={fixWords.legBearing(i + 1)}
                bearing={leg.bearing}
                north={leg.north}
                change={(change) => changeLeg(i, change)}
              />
              <input
                class="field fix-length"
                type="text"
                inputMode="decimal"
                aria-label={fixWords.legLength(i + 1)}
                placeholder="0"
                autocomplete="off"
                value={leg.length}
                data-test={`fix-leg-length-${i + 1}`}
                onInput={(event) => changeLeg(i, { length: event.currentTarget.value })}
              />
              <select
                class="field"
                aria-label={fixWords.legUnit(i + 1)}
                value={leg.unit}
                data-test={`fix-leg-unit-${i + 1}`}
                onChange={(event) => changeLeg(i, { unit: event.currentTarget.value as LegRow["unit"] })}
              >
                {LENGTHS.map((unit) => (
                  <option key={unit} value={unit}>
                    {unit}
                  </option>
                ))}
              </select>
            </span>
            <FaultLine of={readLegs.value[i]} />
          </li>
        ))}
      </ol>
      {mayAddLeg.value && (
        <button type="button" class="button edged" onClick={addLeg} data-test="fix-another-leg">
          {fixWords.anotherLeg}
        </button>
      )}
      {legs.value.some(({ unit }) => unit === "paces") && (
        <p class="soft" data-test="fix-paces">
          {fixWords.paces(formatNumber(walk.value.pace.per100m))}
        </p>
      )}
    </>
  );
}
