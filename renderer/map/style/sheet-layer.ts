/** A scanned sheet as the lowest layer, in place of the areas of the map whose ground it is. */
import type { LayerSpecification, RasterSourceSpecification } from "maplibre-gl";
import type { MapInfo } from "../../../core/map/metadata.ts";
import type { Settings } from "../../../electron/contract.ts";

export const SHEET_SOURCE = "sheet";

/** A sheet as it is to be shown. */
export interface SheetTiles {
  readonly info: Pick<MapInfo, "bounds" | "minZoom" | "maxZoom">;
  readonly tiles: string;
  /** Pixels across. */
  readonly tileSize: number;
  /** Above 0, up to 1. */
  readonly opacity: number;
  /** Whether lines and names of the map are drawn over it. */
  readonly lines: boolean;
}

export const SHEET_OPACITY: Readonly<Record<Exclude<Settings["sheetStrength"], "hidden">, number>> = {
  full: 1,
  half: 0.5,
  faint: 0.25,
};

export function sheetSource({ tiles, tileSize, info }: SheetTiles): RasterSourceSpecification {
  const [west, south, east, north] = info.bounds;
  return {
    type: "raster",
    tiles: [tiles],
    tileSize,
    minzoom: info.minZoom,
    maxzoom: info.maxZoom,
    bounds: [west, south, east, north],
  };
}

export const sheetLayer = ({ opacity }: SheetTiles): LayerSpecification => ({
  id: "sheet",
  type: "raster",
  source: SHEET_SOURCE,
  paint: { "raster-opacity": opacity, "raster-fade-duration": 0 },
});

/** Without areas that are filled, which would cover the sheet as shading would. */
export const unfilled = (layers: readonly LayerSpecification[]): LayerSpecification[] =>
  layers.filter(({ type }) => type !== "fill");
