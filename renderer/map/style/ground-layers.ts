/** Areas and the shape of the ground: woods, wetland, water, shading, contours, cliffs. */
import type { LayerSpecification } from "maplibre-gl";
import { symbolName } from "./line-symbols.ts";
import { isIndexContour, roleLayer, type StyleContext, width } from "./role-layer.ts";

export const TERRAIN_SOURCE = "terrain";
export const SLOPE_SOURCE = "slope";

export function areaLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c } = context;
  return [
    ...roleLayer(context, "wood", "fill", "fill", {
      paint: { "fill-color": c.wood, "fill-antialias": false },
    }),
    ...roleLayer(context, "wetland", "fill", "fill", {
      paint: { "fill-pattern": symbolName("marsh", c.wet) },
    }),
  ];
}

/** Light from the north-west, as on printed maps; faint, because contours carry the form. */
export function shadingLayer({ colours: c }: StyleContext): LayerSpecification {
  return {
    id: "shading",
    type: "hillshade",
    source: TERRAIN_SOURCE,
    paint: {
      "hillshade-exaggeration": c.shadeStrength,
      "hillshade-shadow-color": c["hill-shade"],
      "hillshade-highlight-color": c["hill-light"],
      "hillshade-accent-color": c["hill-shade"],
      "hillshade-illumination-anchor": "map",
      "hillshade-illumination-direction": 315,
    },
  };
}

/** Under the contours, which stay to be counted. */
export const slopeLayer = (): LayerSpecification => ({
  id: "slope",
  type: "raster",
  source: SLOPE_SOURCE,
  paint: { "raster-fade-duration": 0 },
});

export function waterLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c } = context;
  return [
    ...roleLayer(context, "wood", "edge", "line", {
      minzoom: 12,
      paint: { "line-color": c["wood-edge"], "line-width": width(0.8) },
    }),
    ...roleLayer(context, "water", "fill", "fill", { paint: { "fill-color": c["water-wash"] } }),
    ...roleLayer(context, "water", "shore", "line", {
      paint: { "line-color": c.water, "line-width": width(1.1) },
    }),
  ];
}

export function contourLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c, info } = context;
  const index = isIndexContour(info);
  return [
    ...roleLayer(
      context,
      "contour",
      "plain",
      "line",
      {
        minzoom: 11.5,
        layout: { "line-join": "round" },
        paint: {
          "line-color": c.contour,
          "line-width": width(0.8),
          "line-opacity": ["interpolate", ["linear"], ["zoom"], 11.5, 0.4, 13.5, 1],
        },
      },
      () => ["!", index],
    ),
    ...roleLayer(
      context,
      "contour",
      "index",
      "line",
      {
        layout: { "line-join": "round" },
        paint: { "line-color": c["contour-index"], "line-width": width(1.5) },
      },
      () => index,
    ),
    ...roleLayer(context, "cliff", "edge", "line", {
      paint: { "line-color": c.cliff, "line-width": width(1.6) },
    }),
    ...roleLayer(context, "cliff", "teeth", "symbol", {
      minzoom: 12,
      layout: {
        "symbol-placement": "line",
        "symbol-spacing": 9,
        "icon-image": symbolName("tooth", c.cliff),
        "icon-allow-overlap": true,
        "icon-ignore-placement": true,
        "icon-size": ["interpolate", ["linear"], ["zoom"], 12, 0.6, 16, 1],
      },
    }),
  ];
}
