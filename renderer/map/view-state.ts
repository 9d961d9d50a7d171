/** What the map shows now: shared with the read-out, the scale bar and the flags. */
import { signal } from "@preact/signals";
import type { Map as MapLibreMap } from "maplibre-gl";
import type { LonLat } from "../../core/units/position.ts";

/** The one map of the window, once it is on the page. */
export const mapView = signal<MapLibreMap | null>(null);
/** Where the pointer, or the keyboard's cross, is on the ground. */
export const pointer = signal<LonLat | null>(null);
/** Metres to a pixel in the middle of the map. */
export const metresPerPixel = signal(1);
/** Counts the map's moves: read by whatever is drawn at a place on it. */
export const mapMoves = signal(0);
/** The map has the keyboard: its cross is shown. */
export const crossShown = signal(false);
/** The pointer would add a point where it is. */
export const wouldAdd = signal(false);
