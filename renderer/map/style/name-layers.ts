/** Names and heights: everything on the map that is read. Important first: what comes later yields. */
import type { ExpressionSpecification, LayerSpecification } from "maplibre-gl";
import type { RoleBinding } from "../../../core/map/metadata.ts";
import { FONT } from "../font-stacks.ts";
import { symbolName } from "./line-symbols.ts";
import { classIs, isIndexContour, roleLayer, type StyleContext } from "./role-layer.ts";

/** Heights along contours are read from here on. */
export const HEIGHTS_FROM_ZOOM = 12.5;
export const haloOf = ({ colours }: StyleContext): Halo => ({
  "text-halo-color": colours.halo,
  "text-halo-width": 1.6,
  "text-halo-blur": 0.4,
});

const hasName = (binding: RoleBinding): ExpressionSpecification | null =>
  binding.name
    ? ["to-boolean", ["get", binding.name]]
    : (["literal", false] as unknown as ExpressionSpecification);

const nameOf = (
  context: StyleContext,
  role: keyof StyleContext["info"]["roles"],
): ExpressionSpecification => ["to-string", ["get", context.info.roles[role]?.name ?? "name"]];

/** Height as printed: whole, in the map's own unit. */
export const heightOf = (
  context: StyleContext,
  role: keyof StyleContext["info"]["roles"],
): ExpressionSpecification => [
  "to-string",
  ["round", ["to-number", ["get", context.info.roles[role]?.elevation ?? "ele"], 0]],
];

export const size = (at13: number, at17: number): ExpressionSpecification => [
  "interpolate",
  ["linear"],
  ["zoom"],
  13,
  at13,
  17,
  at17,
];

export function nameLayers(context: StyleContext): LayerSpecification[] {
  const { colours: c, info } = context;
  const halo = haloOf(context);
  return [
    ...roleLayer(
      context,
      "contour",
      "height",
      "symbol",
      {
        // Where the map says itself where heights go, that holds up to its closest zoom (contourLabelLayers).
        minzoom: info.contourLabels === undefined ? HEIGHTS_FROM_ZOOM : info.maxZoom + 1,
        layout: {
          "symbol-placement": "line",
          "symbol-spacing": 380,
          "text-field": heightOf(context, "contour"),
          "text-font": [...FONT.plain],
          "text-size": size(11, 13),
          "text-max-angle": 25,
          "text-padding": 12,
        },
        paint: { "text-color": c["contour-name"], ...halo },
      },
      (binding) =>
        binding.elevation ? isIndexContour(info) : (["literal", false] as unknown as ExpressionSpecification),
    ),
    ...roleLayer(
      context,
      "spotHeight",
      "height",
      "symbol",
      {
        minzoom: 13,
        layout: {
          "icon-image": symbolName("height", c["contour-name"]),
          "text-field": heightOf(context, "spotHeight"),
          "text-font": [...FONT.plain],
          "text-size": size(11, 13),
          "text-variable-anchor": ["left", "right", "top", "bottom"],
          "text-radial-offset": 0.45,
          "text-justify": "auto",
          "text-padding": 6,
        },
        paint: { "text-color": c["contour-name"], ...halo },
      },
      (binding) => (binding.elevation ? ["has", binding.elevation] : null),
    ),
    ...lineName(context, "road", c.ink, FONT.plain, halo),
    ...lineName(context, "path", c.ink, FONT.plain, halo),
    ...lineName(context, "stream", c.water, FONT.italic, halo),
    ...areaName(context, "wood", c["wood-name"], FONT.plain, halo),
    ...areaName(context, "wetland", c.water, FONT.italic, halo),
    ...areaName(context, "building", c.ink, FONT.plain, halo),
    ...areaName(context, "water", c.water, FONT.italic, halo),
    ...roleLayer(
      context,
      "name",
      "text",
      "symbol",
      {
        layout: {
          "text-field": nameOf(context, "name"),
          "text-font": ["case", waterName(), ["literal", [...FONT.italic]], ["literal", [...FONT.plain]]],
          "text-size": [
            "interpolate",
            ["linear"],
            ["zoom"],
            13,
            ["case", smallName(), 12, 15.5],
            17,
            ["case", smallName(), 15, 20],
          ],
          // Names of large areas are spread out, as on printed maps.
          "text-letter-spacing": ["case", classIs("area", "region", "valley"), 0.14, 0],
          "symbol-sort-key": ["case", smallName(), 1, 0],
          "text-max-width": 7,
          "text-padding": 8,
        },
        paint: {
          "text-color": [
            "case",
            waterName(),
            c.water,
            ["in", ["get", "class"], ["literal", ["wood", "forest"]]],
            c["wood-name"],
            c.ink,
          ],
          ...halo,
        },
      },
      hasName,
    ),
    ...roleLayer(context, "peak", "text", "symbol", {
      layout: {
        "icon-image": symbolName("summit", c["contour-name"]),
        "icon-allow-overlap": true,
        "text-optional": true,
        "text-field": peakText(context),
        "text-font": [...FONT.bold],
        "text-size": size(14, 18),
        "text-variable-anchor": ["left", "right", "top", "bottom"],
        "text-radial-offset": 0.7,
        "text-justify": "auto",
        "text-max-width": 8,
      },
      paint: { "text-color": c.ink, ...halo },
    }),
  ];
}

/** Names of single small things. */
const smallName = (): ExpressionSpecification => classIs("bridge", "ford", "gate", "well", "title", "house");

const waterName = (): ExpressionSpecification => [
  "in",
  ["get", "class"],
  ["literal", ["water", "lake", "stream", "river", "wetland", "bay"]],
];

function peakText(context: StyleContext): ExpressionSpecification {
  const binding = context.info.roles.peak;
  const name = nameOf(context, "peak");
  if (!binding?.elevation) return name;
  const height: ExpressionSpecification = ["case", ["has", binding.elevation], heightOf(context, "peak"), ""];
  return [
    "format",
    name,
    {},
    "\n",
    {},
    height,
    { "font-scale": 0.82, "text-font": ["literal", [...FONT.plain]] },
  ];
}

type Halo = { "text-halo-color": string; "text-halo-width": number; "text-halo-blur": number };

function lineName(
  context: StyleContext,
  role: "stream" | "road" | "path",
  colour: string,
  font: readonly string[],
  halo: Halo,
): LayerSpecification[] {
  return roleLayer(
    context,
    role,
    "name",
    "symbol",
    {
      minzoom: 12,
      layout: {
        "symbol-placement": "line",
        "symbol-spacing": 420,
        "text-field": nameOf(context, role),
        "text-font": [...font],
        "text-size": size(13, 16),
        "text-max-angle": 35,
        "text-letter-spacing": 0.03,
        // Beside its line, not on it.
        "text-offset": [0, -0.75],
      },
      paint: { "text-color": colour, ...halo },
    },
    hasName,
  );
}

function areaName(
  context: StyleContext,
  role: "wood" | "water" | "wetland" | "building",
  colour: string,
  font: readonly string[],
  halo: Halo,
): LayerSpecification[] {
  return roleLayer(
    context,
    role,
    "name",
    "symbol",
    {
      minzoom: role === "building" ? 14 : 11,
      layout: {
        "text-field": nameOf(context, role),
        "text-font": [...font],
        "text-size": role === "building" ? size(11, 14) : size(14, 18),
        "text-max-width": 7,
        "text-padding": 20,
        ...(role === "building"
          ? { "text-anchor": "top" as const, "text-offset": [0, 0.6] as [number, number] }
          : {}),
      },
      paint: { "text-color": colour, ...halo },
    },
    hasName,
  );
}
