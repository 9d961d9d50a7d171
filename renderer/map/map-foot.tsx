/** Over the ribbon, on the map: the read-out at the left; scale, zoom and whose data it is at the right. */
import { pointLetter } from "../../core/walk/walk.ts";
import { openMap, shownMap, shownSheet } from "../map-case/map-case.ts";
import { walk } from "../walk-state/walk-document.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { words } from "../words/words.ts";
import { NorthButton } from "./north-button.tsx";
import { ReadOut } from "./read-out.tsx";
import { ScaleBar } from "./scale-bar.tsx";
import { mapView, pointer } from "./view-state.ts";
import { showWholeMap, showWholeWalk } from "./whole-view.ts";

export function MapFoot() {
  if (!shownMap.value) return <div class="map-foot" />;
  return (
    <section class="map-foot" aria-label={words.map.foot}>
      {pointer.value ? <ReadOut /> : <Hint />}
      <span class="spread" />
      <MapEdge />
    </section>
  );
}

function Hint() {
  const count = walk.value.points.length;
  if (count > 2) return null;
  const text =
    count === 0
      ? words.map.firstPoint
      : count === 1
        ? words.map.nextPoint(pointLetter(1))
        : words.map.hintDrag;
  return <p class="paper read-out hint">{text}</p>;
}

function MapEdge() {
  const shown = shownMap.value;
  const ground = openMap.value;
  const map = mapView.value;
  if (!shown || !map) return null;
  const attributions = new Set(
    [shown.info, ground?.info].map((info) => (info?.invented ? null : info?.attribution)),
  );
  const credit = [...attributions].filter(Boolean).join(" · ");
  const button = (label: string, text: string, run: () => void) => (
    <button type="button" class="button" aria-label={label} title={label} onClick={run}>
      {text}
    </button>
  );
  return (
    <div class={`paper map-edge ${shownSheet.value ? "of-sheet" : ""}`}>
      <ScaleBar />
      {shownSheet.value && (
        <p class="soft sheet-ground" data-test="sheet-ground">
          {ground ? sheetWords.onGround(ground.info.title) : sheetWords.noGround}
        </p>
      )}
      {ground?.info.invented && <p class="invented-note">{words.slip.invented}</p>}
      {credit && (
        <p class="soft attribution" title={credit}>
          {credit}
        </p>
      )}
      <span class="zoom-buttons">
        <NorthButton />
        {button(words.map.farther, "−", () => map.zoomOut({ duration: 0 }))}
        {button(words.map.nearer, "+", () => map.zoomIn({ duration: 0 }))}
        {walk.value.points.length > 1
          ? button(words.map.wholeWalk, words.map.wholeWalk, () => showWholeWalk(map))
          : button(words.map.wholeMap, words.map.wholeMap, () => showWholeMap(map))}
      </span>
    </div>
  );
}
