/** The map and what lies directly on it: flags, the mark under the pointed-at place, the keyboard's cross. */
import { createPortal } from "preact/compat";
import { useEffect, useRef, useState } from "preact/hooks";
import { AdviceDrawing, AidLabel } from "../advice/advice-drawing.tsx";
import { BesideDrawing } from "../beside/beside-drawing.tsx";
import { figures } from "../walk-state/figures.ts";
import { SheetOutlines } from "../print/sheet-outlines.tsx";
import { Overlay } from "../overlay/overlay.tsx";
import { pointedAt } from "../walk-state/selection.ts";
import { shownStretch } from "../walk-state/stretch.ts";
import { words } from "../words/words.ts";
import { askWithPointer } from "./ask-ground.ts";
import { tellWhenBusy } from "./busy.ts";
import { drawWithKeyboard, middlePixel } from "./keyboard-draw.ts";
import { drawWithPointer } from "./draw.ts";
import { Flags } from "./flags.tsx";
import { putMapOn } from "./map-canvas.ts";
import { RubberLabel } from "./rubber-label.tsx";
import { followTurns } from "./turn.ts";
import { crossShown, mapMoves, mapView } from "./view-state.ts";
import { WalkDrawing } from "./walk-drawing.tsx";
import { keepWholeWalkInView } from "./whole-view.ts";

export function MapStage() {
  const holder = useRef<HTMLDivElement>(null);
  const [layer, setLayer] = useState<HTMLElement | null>(null);

  useEffect(() => {
    if (!holder.current) return;
    const remove = putMapOn(holder.current);
    const map = mapView.value;
    if (!map) return remove;
    const stops = [
      drawWithPointer(map),
      drawWithKeyboard(map),
      askWithPointer(map),
      keepWholeWalkInView(map),
      tellWhenBusy(map, holder.current),
      followTurns(map),
    ];
    // Inside MapLibre's own element, so that wheel and pinch over a flag still reach the map.
    setLayer(map.getCanvasContainer());
    return () => {
      for (const stop of stops) stop();
      remove();
    };
  }, []);

  const map = mapView.value;
  return (
    <>
      <div class="map" ref={holder} data-test="map" />
      <p id="flag-keys" class="unseen">
        {words.map.pointKeys}
      </p>
      {map && layer && createPortal(<OnMap />, layer)}
    </>
  );
}

function OnMap() {
  const map = mapView.value;
  if (!map) return null;
  return (
    <div class="on-map">
      <Overlay map={map} />
      <Stretch />
      <AdviceDrawing map={map} />
      <BesideDrawing map={map} />
      <WalkDrawing map={map} />
      <PlaceMark />
      <RubberLabel map={map} />
      <Flags map={map} />
      <AidLabel map={map} />
      <Cross />
      <SheetOutlines map={map} />
    </div>
  );
}

/** A ring on the map where the ribbon or the slip is pointed at. */
function PlaceMark() {
  const map = mapView.value;
  // Read so that the mark moves with the map.
  void mapMoves.value;
  const place = pointedAt.value;
  const leg = place && figures.value?.legs[place.leg];
  if (!map || !leg || place.from === "map" || leg.distanceM === 0) return null;
  const share = Math.min(1, place.atM / leg.distanceM);
  const [lon0, lat0] = leg.fromLonLat;
  const [lon1, lat1] = leg.toLonLat;
  const { x, y } = map.project([lon0 + (lon1 - lon0) * share, lat0 + (lat1 - lat0) * share]);
  return <span class="place-mark" style={{ transform: `translate(${x}px, ${y}px)` }} />;
}

/** Under the leg, the stretch pointed at. */
function Stretch() {
  const map = mapView.value;
  void mapMoves.value;
  const stretch = shownStretch.value;
  const leg = stretch && figures.value?.legs[stretch.leg];
  if (!map || !leg || leg.distanceM === 0) return null;
  const [lon0, lat0] = leg.fromLonLat;
  const [lon1, lat1] = leg.toLonLat;
  const ends = [stretch.fromM, stretch.toM].map((atM) => {
    const share = Math.min(1, Math.max(0, atM / leg.distanceM));
    const { x, y } = map.project([lon0 + (lon1 - lon0) * share, lat0 + (lat1 - lat0) * share]);
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  });
  return (
    <svg class="walk-drawing" aria-hidden="true" data-test="map-stretch">
      <path class="walk-stretch" d={`M${ends.join("L")}`} />
    </svg>
  );
}

function Cross() {
  const map = mapView.value;
  void mapMoves.value;
  if (!map || !crossShown.value) return null;
  const { x, y } = middlePixel(map);
  return (
    <svg
      class="cross"
      width="40"
      height="40"
      viewBox="-20 -20 40 40"
      style={{ transform: `translate(${x - 20}px, ${y - 20}px)` }}
      aria-hidden="true"
    >
      <path class="cross-casing" d="M-18 0H-4M4 0H18M0 -18V-4M0 4V18" />
      <path d="M-18 0H-4M4 0H18M0 -18V-4M0 4V18" />
    </svg>
  );
}
