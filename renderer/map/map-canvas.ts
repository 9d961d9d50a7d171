/** Puts MapLibre on the page and keeps its style in step with the open map and the theme. */
import { effect } from "@preact/signals";
import { Map as MapLibreMap, setWorkerUrl } from "maplibre-gl";
import "maplibre-gl/dist/maplibre-gl.css";
import mapWorkerUrl from "maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url";
import { DEG } from "../../core/units/angle.ts";
import { say, sayFault } from "../app/notices.ts";
import { Fault } from "../../core/fault.ts";
import { openMap, shownMap, shownSheet } from "../map-case/map-case.ts";
import { settings } from "../app/settings.ts";
import { slopeColour } from "../slope/slope-colour.ts";
import { SLOPE_TILE_PX, slopeTiles } from "../slope/slope-shading.ts";
import { readMapColours } from "../theme/map-colours.ts";
import { strongColours, theme } from "../theme/theme.ts";
import { faultWords } from "../words/fault-words.ts";
import { words } from "../words/words.ts";
import { saidFaults } from "./archive-protocol.ts";
import { mapFonts } from "./map-fonts.ts";
import { drawSymbol } from "./style/line-symbols.ts";
import { mapStyle } from "./style/map-style.ts";
import { SHEET_OPACITY, type SheetTiles } from "./style/sheet-layer.ts";
import { tintColours } from "./sheet-tint.ts";
import { mapView, mapMoves, metresPerPixel } from "./view-state.ts";

setWorkerUrl(new URL(mapWorkerUrl, document.baseURI).href);

/** Closer than this there is nothing more to see on a topographic map. */
const MAX_ZOOM = 18.5;

/** @returns removes the map again */
export function putMapOn(container: HTMLElement): () => void {
  const fonts = mapFonts();
  const map = new MapLibreMap({
    container,
    style: mapStyle(null, readMapColours(), fonts),
    center: [0, 0],
    zoom: 2,
    maxZoom: MAX_ZOOM,
    attributionControl: false,
    dragRotate: false,
    pitchWithRotate: false,
    touchPitch: false,
    rollEnabled: false,
    doubleClickZoom: false,
    // Shift puts points down freely; the box would swallow the click.
    boxZoom: false,
    renderWorldCopies: false,
    fadeDuration: 0,
  });
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();
  map.getCanvas().setAttribute("aria-label", words.map.label);
  map.setMissingStyleImageResolver((id) => {
    const symbol = drawSymbol(id);
    if (symbol && !map.hasImage(id)) map.addImage(id, symbol.image, { pixelRatio: symbol.pixelRatio });
  });
  map.on("error", ({ error }) => {
    // A tile given up because the map moved on is no fault.
    if (!(error instanceof DOMException && error.name === "AbortError") && !saidFaults.has(error.message))
      sayFault(new Fault("bad-tile", error.message, openMap.peek()?.opened.fileName ?? null));
  });

  // MapLibre draws again by itself once there is a picture to draw into.
  map.on("webglcontextlost", () => say(faultWords.pictureLost));
  map.on("webglcontextrestored", () => say(faultWords.pictureBack));

  const measure = (): void => {
    mapMoves.value = mapMoves.peek() + 1;
    const { lat } = map.getCenter();
    metresPerPixel.value = (40_075_016.686 * Math.cos(lat * DEG)) / (512 * 2 ** map.getZoom());
  };
  map.on("move", measure);
  measure();
  mapView.value = map;

  let lastShown: unknown = null;
  const stopStyle = effect(() => {
    const open = openMap.value;
    const sheet = sheetToShow();
    // Read for the dependency: the tokens on the document change with it.
    const tint = theme.value;
    void strongColours.value;
    // Over a sheet, which is light paper, the lines of dark paper could not be seen.
    const colours = sheet ? tintColours(readMapColours("light"), tint) : readMapColours();
    const slope = slopeTiles(slopeColour());
    map.setStyle(
      mapStyle(
        open?.tiles ?? null,
        colours,
        fonts,
        slope ? { tiles: slope, tileSize: SLOPE_TILE_PX } : null,
        sheet,
      ),
      { diff: true },
    );
    const shown = shownMap.value;
    if (shown && shown.info !== lastShown) {
      lastShown = shown.info;
      map.setMinZoom(Math.max(0, shown.info.minZoom - 3));
    }
  });

  return () => {
    stopStyle();
    mapView.value = null;
    map.remove();
  };
}

/** The open sheet as the person wants to see it; null when none is open, or it is hidden. */
function sheetToShow(): SheetTiles | null {
  const sheet = shownSheet.value;
  const { sheetStrength, sheetLines } = settings.value;
  if (!sheet || sheetStrength === "hidden") return null;
  return {
    info: sheet.info,
    tiles: sheet.tilesIn(theme.value),
    tileSize: sheet.tileSize,
    opacity: SHEET_OPACITY[sheetStrength],
    lines: sheetLines,
  };
}
