/** The slip for finding oneself: the ways at its head, one of them below, and what it found over the map. */
import type { ComponentType } from "preact";
import { createPortal } from "preact/compat";
import { useEffect } from "preact/hooks";
import { namesAround } from "../find/find-context.ts";
import { mapView } from "../map/view-state.ts";
import { fixWords } from "../words/fix-words.ts";
import { BearingsPart } from "./bearings-part.tsx";
import "./fix.css";
import { FixDrawings } from "./fix-drawings.tsx";
import { chooseWay, fixOpen, type Way, way, WAYS } from "./fix-state.ts";
import { closeFix } from "./open-fix.ts";
import { pickOnMap } from "./pick-on-map.ts";
import { ReckonPart } from "./reckon-part.tsx";
import { OnLinePart, TrackPart } from "./spots-parts.tsx";

const PARTS: Readonly<Record<Way, ComponentType>> = {
  resect: BearingsPart,
  intersect: BearingsPart,
  onLine: OnLinePart,
  reckon: ReckonPart,
  track: TrackPart,
};

export function FixSlip() {
  const map = mapView.value;
  useEffect(() => (map ? pickOnMap(map) : undefined), [map]);
  if (!fixOpen.value) return null;
  return (
    <>
      <Slip />
      {map &&
        createPortal(
          <div class="on-map">
            <FixDrawings map={map} />
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
  const Part = PARTS[way.value];
  return (
    <section
      class="paper corner-slip fix-slip"
      aria-label={fixWords.label}
      onKeyDown={key}
      data-test="fix-slip"
    >
      <div class="place-head">
        <select
          class="field fix-way"
          aria-label={fixWords.label}
          value={way.value}
          data-test="fix-way"
          onChange={(event) => chooseWay(event.currentTarget.value as Way)}
        >
          {WAYS.map((one) => (
            <option key={one} value={one}>
              {fixWords.ways[one]}
            </option>
          ))}
        </select>
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
      <Part />
    </section>
  );
}
