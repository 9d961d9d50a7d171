/** Which map gives a scanned sheet its ground: chosen in the sheet's row of the case, remembered for it. */
import type { MapEntry } from "../../electron/contract.ts";
import { settings } from "../app/settings.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { chooseGround, mapEntries } from "./map-case.ts";
import { groundOf, groundsAmong } from "./sheet-ground.ts";

export function GroundField({ sheet }: { readonly sheet: MapEntry }) {
  const grounds = groundsAmong(mapEntries.value);
  if (grounds.length === 0) return <p class="map-note">{sheetWords.noOther}</p>;
  return (
    <label class="ground-field">
      <span>{sheetWords.groundFrom}</span>
      <select
        class="field"
        aria-label={sheetWords.groundOf(sheet.title)}
        data-test="sheet-ground-choice"
        value={groundOf(sheet, mapEntries.value, settings.value.sheetGrounds) ?? ""}
        onChange={({ currentTarget }) => void chooseGround(sheet, currentTarget.value || null)}
      >
        {grounds.map(({ id, title }) => (
          <option key={id} value={id}>
            {title}
          </option>
        ))}
        <option value="">{sheetWords.noGroundChoice}</option>
      </select>
    </label>
  );
}
