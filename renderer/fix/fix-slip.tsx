/** The slip of bearings: a line for each, and the place that follows. */
import { createPortal } from "preact/compat";
import { useEffect } from "preact/hooks";
import { Fault } from "../../core/fault.ts";
import type { North } from "../../core/walk/walk.ts";
import { NORTHS } from "../app/north.ts";
import { namesAround } from "../find/find-context.ts";
import { mapView } from "../map/view-state.ts";
import { fixWords } from "../words/fix-words.ts";
import "./fix.css";
import { FixDrawing } from "./fix-drawing.tsx";
import { FixResult } from "./fix-result.tsx";
import {
  addRow,
  changeRow,
  closeFix,
  fixDone,
  fixOpen,
  found,
  mayAddRow,
  picking,
  read,
  rows,
  type Way,
  way,
} from "./fix-state.ts";
import { pickOnMap } from "./pick-on-map.ts";

export function FixSlip() {
  const map = mapView.value;
  const fix = found.value;
  useEffect(() => (map ? pickOnMap(map) : undefined), [map]);
  if (!fixOpen.value) return null;
  return (
    <>
      <Slip />
      {map &&
        fix &&
        !(fix instanceof Fault) &&
        createPortal(
          <div class="on-map">
            <FixDrawing map={map} fix={fix} />
          </div>,
          map.getCanvasContainer(),
        )}
    </>
  );
}

function Slip() {
  const key = (event: KeyboardEvent): void => {
    if (event.key !== "Escape") {
      if (!event.ctrlKey && !event.metaKey) event.stopPropagation();
      return;
    }
    event.preventDefault();
    event.stopPropagation();
    closeFix();
  };
  const fix = found.value;
  return (
    <section class="paper fix-slip" aria-label={fixWords.label} onKeyDown={key} data-test="fix-slip">
      <div class="place-head">
        <div role="group" aria-label={fixWords.label} class="fix-ways">
          {(["resect", "intersect"] as const).map((one: Way) => (
            <button
              key={one}
              type="button"
              class="button"
              aria-pressed={way.value === one}
              onClick={() => (way.value = one)}
              data-test={`fix-${one}`}
            >
              {fixWords.ways[one]}
            </button>
          ))}
        </div>
        <button
          type="button"
          class="button place-close"
          aria-label={fixWords.close}
          title={`${fixWords.close} (Esc)`}
          onClick={closeFix}
        >
          ×
        </button>
      </div>
      <p class="soft">{fixWords.lead[way.value]}</p>
      <datalist id="fix-names">
        {[...new Set(namesAround.value.map(({ name }) => name))].map((name) => (
          <option key={name} value={name} />
        ))}
      </datalist>
      <ol class="fix-rows" aria-label={fixWords.list}>
        {rows.value.map((_, n) => (
          <Row key={n} n={n} />
        ))}
      </ol>
      {mayAddRow.value && (
        <button type="button" class="button edged" onClick={addRow} data-test="fix-another">
          {fixWords.another}
        </button>
      )}
      <div role="status" data-test="fix-said">
        {picking.value !== null && <p>{fixWords.picking(picking.value + 1)}</p>}
        {fix === null && picking.value === null && <p class="soft">{fixWords.waiting}</p>}
        {fix instanceof Fault && (
          <p class="sum-fault">
            {fix.what} {fix.remedy}
          </p>
        )}
        {fixDone.value && <p class="soft">{fixDone.value}</p>}
      </div>
      {fix && !(fix instanceof Fault) && <FixResult fix={fix} />}
    </section>
  );
}

function Row({ n }: { readonly n: number }) {
  const row = rows.value[n];
  const said = read.value[n];
  if (!row || !said) return null;
  return (
    <li>
      <span class="fix-line">
        <input
          class="field fix-bearing"
          type="text"
          aria-label={fixWords.bearing(n + 1)}
          placeholder="000°"
          autocomplete="off"
          spellcheck={false}
          value={row.bearing}
          data-test={`fix-bearing-${n + 1}`}
          onInput={(event) => changeRow(n, { bearing: event.currentTarget.value })}
        />
        <select
          class="field"
          aria-label={fixWords.north(n + 1)}
          value={row.north}
          data-test={`fix-north-${n + 1}`}
          onChange={(event) => changeRow(n, { north: event.currentTarget.value as North })}
        >
          {NORTHS.map((one) => (
            <option key={one} value={one}>
              {fixWords.norths[one]}
            </option>
          ))}
        </select>
        <span class="soft">{fixWords.way[way.value]}</span>
      </span>
      <span class="fix-line">
        <input
          class="field fix-known"
          type="text"
          list="fix-names"
          aria-label={fixWords.known(n + 1)}
          placeholder={fixWords.knownHint}
          autocomplete="off"
          spellcheck={false}
          value={row.known}
          data-test={`fix-known-${n + 1}`}
          onInput={(event) => changeRow(n, { known: event.currentTarget.value })}
        />
        <button
          type="button"
          class="button edged"
          aria-label={fixWords.pick(n + 1)}
          aria-pressed={picking.value === n}
          title={fixWords.pick(n + 1)}
          onClick={() => (picking.value = picking.value === n ? null : n)}
          data-test={`fix-pick-${n + 1}`}
        >
          {fixWords.pickShort}
        </button>
      </span>
      {said.fault && (
        <p class="sum-fault">
          {said.fault.what} {said.fault.remedy}
        </p>
      )}
    </li>
  );
}
