/** Ground whose heights were missing and are made up: hatched, ringed and named, as contours there are a guess. */
import type { LayerSpecification } from "maplibre-gl";
import { FILLED_WORDS } from "../../words/filled-words.ts";
import { FONT } from "../font-stacks.ts";
import { symbolName } from "./line-symbols.ts";
import { haloOf, size } from "./name-layers.ts";
import { MAP_SOURCE, type StyleContext, width } from "./role-layer.ts";

export function filledLayers(context: StyleContext): LayerSpecification[] {
  const { info, colours: c } = context;
  if (info.filled === undefined) return [];
  const from = { source: MAP_SOURCE, "source-layer": info.filled };
  return [
    {
      id: "filled-hatch",
      type: "fill",
      ...from,
      paint: { "fill-pattern": symbolName("hatch", c["contour-name"]) },
    },
    {
      id: "filled-edge",
      type: "line",
      ...from,
      paint: { "line-color": c["contour-name"], "line-width": width(1), "line-dasharray": [3, 2] },
    },
    {
      id: "filled-words",
      type: "symbol",
      ...from,
      minzoom: 11,
      layout: {
        "symbol-placement": "line",
        "symbol-spacing": 420,
        "text-field": FILLED_WORDS,
        "text-font": [...FONT.plain],
        "text-size": size(12, 14),
        "text-offset": [0, -0.75],
        "text-padding": 12,
      },
      paint: { "text-color": c["contour-name"], ...haloOf(context) },
    },
  ];
}
