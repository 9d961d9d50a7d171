/** Bearings to known points, or from known places: a line for each, and what can be sighted from about here. */
import { fixWords } from "../words/fix-words.ts";
import { BearingField } from "./bearing-field.tsx";
import { addRow, changeRow, found, mayAddRow, read, rows } from "./bearing-rows.ts";
import { FixResult } from "./fix-result.tsx";
import { way } from "./fix-state.ts";
import { InView } from "./in-view.tsx";
import { FaultLine, PlaceField } from "./place-field.tsx";
import { Said } from "./said.tsx";

export function BearingsPart() {
  const side = way.value === "intersect" ? "intersect" : "resect";
  return (
    <>
      <ol class="fix-rows" aria-label={fixWords.list}>
        {rows.value.map((row, i) => (
          <li key={i}>
            <span class="fix-line">
              <BearingField
                test={[`bearing-${i + 1}`, `north-${i + 1}`]}
                label={fixWords.bearing(i + 1)}
                bearing={row.bearing}
                north={row.north}
                change={(change) => changeRow(i, change)}
              />
              <span class="soft">{fixWords.way[side]}</span>
            </span>
            <PlaceField
              id={`known-${i + 1}`}
              label={fixWords.known(i + 1)}
              value={row.known}
              change={(known) => changeRow(i, { known })}
            />
            <FaultLine of={read.value[i]} />
          </li>
        ))}
      </ol>
      {mayAddRow.value && (
        <button type="button" class="button edged" onClick={addRow} data-test="fix-another">
          {fixWords.another}
        </button>
      )}
      {side === "resect" && <InView />}
      <Said found={found.value} waiting={fixWords.waiting} />
      <FixResult />
    </>
  );
}
