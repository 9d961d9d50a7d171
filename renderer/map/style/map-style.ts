/**
 * The whole style of the map: ground, works, names. A pure function of map and theme. The walk is not in it: it is
 * drawn over the map (walk-drawing.tsx), so that dragging a point does not draw the map again.
 */
import type { FontFacesSpecification, LayerSpecification, StyleSpecification } from "maplibre-gl";
import type { MapInfo } from "../../../core/map/metadata.ts";
import type { MapColours } from "../../theme/map-colours.ts";
import {
  areaLayers,
  contourLayers,
  shadingLayer,
  slopeLayer,
  SLOPE_SOURCE,
  TERRAIN_SOURCE,
  waterLayers,
} from "./ground-layers.ts";
import { filledLayers } from "./filled-layers.ts";
import { contourLabelLayers, edgeLineLayers, edgeWordsLayers } from "./model-layers.ts";
import { streamLayers, worksLayers } from "./line-layers.ts";
import { nameLayers } from "./name-layers.ts";
import { MAP_SOURCE, type StyleContext } from "./role-layer.ts";
import { SHEET_SOURCE, sheetLayer, sheetSource, type SheetTiles, unfilled } from "./sheet-layer.ts";

export interface MapTiles {
  readonly info: MapInfo;
  /** Tile address of the archive. */
  readonly tiles: string;
  readonly terrain: { readonly tiles: string; readonly maxZoom: number; readonly tileSize: number } | null;
}

/** The slope shading, when it is shown. */
export interface SlopeTiles {
  readonly tiles: string;
  readonly tileSize: number;
}

/** Farther off the marks would be larger than the slopes they stand for. */
const SLOPE_FROM_ZOOM = 11;

export function mapStyle(
  map: MapTiles | null,
  colours: MapColours,
  fonts: FontFacesSpecification,
  slope: SlopeTiles | null = null,
  sheet: SheetTiles | null = null,
): StyleSpecification {
  const background: LayerSpecification = {
    id: "ground",
    type: "background",
    paint: { "background-color": colours.ground },
  };
  const style: StyleSpecification = {
    version: 8,
    "font-faces": fonts,
    sources: {},
    layers: [background],
    // Swift, because labels that fade in look like they are still loading.
    transition: { duration: 0, delay: 0 },
  };
  const lowest = sheet ? [background, sheetLayer(sheet)] : [background];
  if (sheet) style.sources[SHEET_SOURCE] = sheetSource(sheet);
  style.layers = lowest;
  if (!map) return style;

  const context: StyleContext = { info: map.info, colours };
  const [west, south, east, north] = map.info.bounds;
  style.sources[MAP_SOURCE] = {
    type: "vector",
    tiles: [map.tiles],
    minzoom: map.info.minZoom,
    maxzoom: map.info.maxZoom,
    bounds: [west, south, east, north],
  };
  if (map.terrain)
    style.sources[TERRAIN_SOURCE] = {
      type: "raster-dem",
      tiles: [map.terrain.tiles],
      encoding: "terrarium",
      tileSize: map.terrain.tileSize,
      maxzoom: map.terrain.maxZoom,
      bounds: [west, south, east, north],
    };
  if (slope)
    style.sources[SLOPE_SOURCE] = {
      type: "raster",
      tiles: [slope.tiles],
      tileSize: slope.tileSize,
      minzoom: SLOPE_FROM_ZOOM,
      maxzoom: 20,
      bounds: [west, south, east, north],
    };
  const steepness = slope ? [slopeLayer()] : [];
  if (sheet && !sheet.lines) {
    style.layers = [...lowest, ...steepness];
    return style;
  }
  const shown = sheet ? unfilled : (layers: LayerSpecification[]) => layers;
  style.layers = [
    ...lowest,
    ...shown(areaLayers(context)),
    ...(map.terrain && !sheet ? [shadingLayer(context)] : []),
    ...steepness,
    ...contourLayers(context),
    ...streamLayers(context),
    // Over the streams: the line that joins inflow and outflow is no sight on a lake.
    ...shown(waterLayers(context)),
    ...shown(worksLayers(context)),
    ...filledLayers(context),
    ...edgeLineLayers(context),
    ...edgeWordsLayers(context),
    ...contourLabelLayers(context),
    ...nameLayers(context),
  ];
  return style;
}
