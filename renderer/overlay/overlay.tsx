/** The lines a person may want over the map: those of the grid, with their figures at the edges, and those to magnetic north. */
import { computed } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import type { Projection } from "../../core/geodesy/projection.ts";
import { settings } from "../app/settings.ts";
import { knownGrid } from "../find/known-grids.ts";
import { shownMap } from "../map-case/map-case.ts";
import { mapMoves, metresPerPixel } from "../map/view-state.ts";
import { legSettings } from "../walk-state/figures.ts";
import { declinationField } from "./declination-field.ts";
import { type GridOverlayLine, gridOverlay, gridOverlayStepM } from "./grid-overlay.ts";
import { magneticOverlay } from "./magnetic-overlay.ts";
import type { OverlayLine, ViewBox } from "./view-box.ts";
import "./overlay.css";

interface Pixel {
  readonly x: number;
  readonly y: number;
}

const mapBox = computed<ViewBox | null>(() => {
  const bounds = shownMap.value?.info.bounds;
  return bounds ? { west: bounds[0], south: bounds[1], east: bounds[2], north: bounds[3] } : null;
});
const field = computed(() => mapBox.value && declinationField(mapBox.value, legSettings.value));

/** The grid positions are read in; null stands for UTM. */
function ownGrid(near: readonly [number, number]): Projection | null {
  const { notation, gridName, grids } = settings.value;
  const name = notation === "british" ? "british" : notation === "grid" ? gridName : null;
  return (name && knownGrid(name, grids)?.at(near).projection) || null;
}

export function Overlay({ map }: { readonly map: MapLibreMap }) {
  void mapMoves.value;
  const { showGrid, showMagneticNorth } = settings.value;
  if (!shownMap.value || (!showGrid && !showMagneticNorth)) return null;
  const bounds = map.getBounds();
  const view: ViewBox = {
    west: bounds.getWest(),
    south: Math.max(-85, bounds.getSouth()),
    east: bounds.getEast(),
    north: Math.min(85, bounds.getNorth()),
  };
  const stepM = gridOverlayStepM(metresPerPixel.value);
  if (stepM === null) return null;
  const pixels = ({ lonLats }: OverlayLine): Pixel[] => lonLats.map(([lon, lat]) => map.project([lon, lat]));
  const { lng, lat } = map.getCenter().wrap();
  const grid = showGrid
    ? gridOverlay(view, ownGrid([lng, lat]), stepM).map((line) => ({ line, path: pixels(line) }))
    : [];
  const magnetic =
    showMagneticNorth && field.value && mapBox.value
      ? magneticOverlay(view, mapBox.value, field.value, stepM).map((line) => pixels(line))
      : [];
  const { left, top } = freeCorner();
  return (
    <svg class="overlay" aria-hidden="true" data-test="overlay">
      {grid.length > 0 && <path class="overlay-grid" d={grid.map(({ path }) => pathOf(path)).join("")} />}
      {magnetic.length > 0 && <path class="overlay-magnetic" d={magnetic.map(pathOf).join("")} />}
      {grid.map(({ line, path }) => (
        <EdgeLabel key={line.id} line={line} path={path} left={left} top={top} />
      ))}
    </svg>
  );
}

const pathOf = (path: readonly Pixel[]): string =>
  path.map(({ x, y }, i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");

/** Clear of the panels along the map's edge, pixels. */
const CLEAR_PX = 4;

/** The corner of the map that no panel covers: labels under a panel would not be seen. */
function freeCorner(): { readonly left: number; readonly top: number } {
  const box = document.querySelector(".free-map")?.getBoundingClientRect();
  return { left: box?.left ?? 0, top: box?.top ?? 0 };
}

interface EdgeLabelProps {
  readonly line: GridOverlayLine;
  readonly path: readonly Pixel[];
  readonly left: number;
  readonly top: number;
}

/** Where a line comes in at the top (eastings) or at the left (northings) of what no panel covers. */
function EdgeLabel({ line, path, left, top }: EdgeLabelProps) {
  const down = line.axis === "easting";
  const edge = down ? top + CLEAR_PX : left + CLEAR_PX;
  const place = crossing(path, edge, down);
  if (!place) return null;
  return (
    <text
      class="overlay-label"
      x={place.x + (down ? 3 : 0)}
      y={place.y + (down ? 10 : -3)}
      data-axis={line.axis}
      data-value={line.value}
    >
      {line.label}
    </text>
  );
}

function crossing(path: readonly Pixel[], edge: number, down: boolean): Pixel | null {
  const along = ({ x, y }: Pixel): number => (down ? y : x);
  for (let i = 1; i < path.length; i++) {
    const [a, b] = [path[i - 1] as Pixel, path[i] as Pixel];
    if (along(a) <= edge === along(b) <= edge) continue;
    const share = (edge - along(a)) / (along(b) - along(a));
    return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
  }
  return null;
}
