/** What the map says of its own elevation model: where heights end, and where they are to be written on contours. */
import type { LayerSpecification } from "maplibre-gl";
import { DATA_EDGE_WORDS } from "../../words/data-edge-words.ts";
import { FONT } from "../font-stacks.ts";
import { haloOf, heightOf, HEIGHTS_FROM_ZOOM, size } from "./name-layers.ts";
import { MAP_SOURCE, type StyleContext, width } from "./role-layer.ts";

/** The line at which the model ends: contours stop there because the data do, not because the ground is level. */
export function edgeLineLayers({ info, colours: c }: StyleContext): LayerSpecification[] {
  if (info.dataEdge === undefined) return [];
  return [
    {
      id: "data-edge-line",
      type: "line",
      source: MAP_SOURCE,
      "source-layer": info.dataEdge,
      paint: { "line-color": c["contour-name"], "line-width": width(1.4), "line-dasharray": [8, 3] },
    },
  ];
}

export function edgeWordsLayers(context: StyleContext): LayerSpecification[] {
  const { info, colours: c } = context;
  if (info.dataEdge === undefined) return [];
  return [
    {
      id: "data-edge-words",
      type: "symbol",
      source: MAP_SOURCE,
      "source-layer": info.dataEdge,
      minzoom: 11,
      layout: {
        "symbol-placement": "line",
        "symbol-spacing": 420,
        "text-field": DATA_EDGE_WORDS,
        "text-font": [...FONT.plain],
        "text-size": size(12, 14),
        "text-offset": [0, -0.75],
        "text-padding": 12,
      },
      paint: { "text-color": c["contour-name"], ...haloOf(context) },
    },
  ];
}

/** Heights on index contours where the map says, heads of the figures uphill as it says. */
export function contourLabelLayers(context: StyleContext): LayerSpecification[] {
  const { info, colours: c } = context;
  if (info.contourLabels === undefined) return [];
  return [
    {
      id: "contour-labels",
      type: "symbol",
      source: MAP_SOURCE,
      "source-layer": info.contourLabels,
      minzoom: HEIGHTS_FROM_ZOOM,
      maxzoom: info.maxZoom + 1,
      layout: {
        "text-field": heightOf(context, "contour"),
        "text-font": [...FONT.plain],
        "text-size": size(11, 13),
        "text-rotate": ["to-number", ["get", "angle"], 0],
        "text-rotation-alignment": "map",
        "text-padding": 12,
      },
      paint: { "text-color": c["contour-name"], ...haloOf(context) },
    },
  ];
}
