/** The walk on the map: legs in ink with a white casing, and the aids of the leg on the slip as wide soft strokes. */
import type { LayerSpecification } from "maplibre-gl";
import type { MapColours } from "../../theme/map-colours.ts";

export const WALK_SOURCE = "walk";

export function walkLayers(c: MapColours): LayerSpecification[] {
  const line = (
    id: string,
    what: string,
    paint: Extract<LayerSpecification, { type: "line" }>["paint"],
    cap: "butt" | "round" = "round",
  ): LayerSpecification => ({
    id,
    type: "line",
    source: WALK_SOURCE,
    filter: ["==", ["get", "what"], what],
    layout: { "line-cap": cap, "line-join": "round" },
    paint: paint ?? {},
  });
  return [
    {
      id: "walk-drift",
      type: "fill",
      source: WALK_SOURCE,
      filter: ["==", ["get", "what"], "drift"],
      paint: { "fill-color": c.ink, "fill-opacity": 0.1 },
    },
    line("walk-follow", "follow", { "line-color": c.follow, "line-width": 10, "line-opacity": 0.42 }),
    line("walk-stop", "stop", { "line-color": c.stop, "line-width": 11, "line-opacity": 0.42 }),
    line(
      "walk-rubber",
      "rubber",
      { "line-color": c.leg, "line-width": 1.6, "line-dasharray": [3, 3], "line-opacity": 0.75 },
      "butt",
    ),
    line("walk-casing", "leg", { "line-color": c.casing, "line-width": 5.5 }),
    line("walk-leg", "leg", { "line-color": c.leg, "line-width": 2.4 }),
    line("walk-pointed", "pointed-leg", { "line-color": c.leg, "line-width": 4 }),
    line("walk-picked-casing", "picked-leg", { "line-color": c.casing, "line-width": 7.5 }),
    line("walk-picked", "picked-leg", { "line-color": c.pick, "line-width": 4.2 }),
  ];
}
