/** Lines one meets on the ground: streams, paths, roads, walls, fences, power lines, boundaries; and buildings. */
import type { ExpressionSpecification, LayerSpecification } from "maplibre-gl";
import { symbolName, type SymbolShape } from "./line-symbols.ts";
import { classIs, classIsNot, roleLayer, type StyleContext, width } from "./role-layer.ts";

const wide = (small: number, large: number, ...largeClasses: readonly string[]): ExpressionSpecification => {
  const by = (scale: number): ExpressionSpecification => [
    "case",
    classIs(...largeClasses),
    large * scale,
    small * scale,
  ];
  return ["interpolate", ["exponential", 1.4], ["zoom"], 9, by(0.4), 14, by(1), 18, by(1.9)];
};

export function streamLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c } = context;
  return roleLayer(context, "stream", "line", "line", {
    layout: { "line-cap": "round", "line-join": "round" },
    paint: { "line-color": c.water, "line-width": wide(1.4, 3.2, "river", "canal") },
  });
}

/** A thin line with a mark set on it again and again: shape, not colour, tells walls, fences and power lines apart. */
function markedLine(
  context: StyleContext,
  role: "wall" | "fence" | "powerLine",
  shape: SymbolShape,
  lineWidth: number,
  spacing: number,
): LayerSpecification[] {
  const { colours: c } = context;
  return [
    ...roleLayer(context, role, "line", "line", {
      minzoom: 11,
      paint: { "line-color": c.works, "line-width": width(lineWidth) },
    }),
    ...roleLayer(context, role, "marks", "symbol", {
      minzoom: 12,
      layout: {
        "symbol-placement": "line",
        "symbol-spacing": spacing,
        "icon-image": symbolName(shape, c.works),
        "icon-allow-overlap": true,
        "icon-ignore-placement": true,
        "icon-size": ["interpolate", ["linear"], ["zoom"], 12, 0.6, 16, 1],
      },
    }),
  ];
}

export function worksLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c } = context;
  const wideRoads = ["motorway", "trunk", "primary", "secondary", "highway", "major_road"];
  return [
    ...roleLayer(context, "boundary", "line", "line", {
      paint: { "line-color": c.bounds, "line-width": width(1.2), "line-dasharray": [6, 2, 1, 2] },
    }),
    ...roleLayer(context, "restricted", "line", "line", {
      paint: { "line-color": c.mind, "line-width": width(1.4), "line-dasharray": [2, 2] },
    }),
    ...markedLine(context, "wall", "block", 1, 12),
    ...markedLine(context, "fence", "cross", 0.8, 24),
    ...roleLayer(
      context,
      "path",
      "track",
      "line",
      { paint: { "line-color": c.works, "line-width": width(1.6), "line-dasharray": [6, 1.6] } },
      () => classIs("track"),
    ),
    ...roleLayer(
      context,
      "path",
      "line",
      "line",
      { paint: { "line-color": c.works, "line-width": width(1.2), "line-dasharray": [3.5, 2.2] } },
      () => classIsNot("track"),
    ),
    ...roleLayer(context, "road", "casing", "line", {
      layout: { "line-cap": "round", "line-join": "round" },
      paint: { "line-color": c.works, "line-width": wide(4, 5.6, ...wideRoads) },
    }),
    ...roleLayer(context, "road", "fill", "line", {
      layout: { "line-cap": "round", "line-join": "round" },
      paint: { "line-color": c["road-fill"], "line-width": wide(2.2, 3.6, ...wideRoads) },
    }),
    ...roleLayer(context, "rail", "line", "line", {
      paint: { "line-color": c.works, "line-width": width(1.6) },
    }),
    ...roleLayer(context, "rail", "ties", "line", {
      paint: { "line-color": c.works, "line-width": width(5), "line-dasharray": [0.25, 2.4] },
    }),
    ...roleLayer(context, "building", "fill", "fill", { minzoom: 12, paint: { "fill-color": c.building } }),
    ...markedLine(context, "powerLine", "bar", 0.9, 70),
  ];
}
