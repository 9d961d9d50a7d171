import { createExpression, validateStyleMin } from "@maplibre/maplibre-gl-style-spec";
import { describe, expect, test } from "vitest";
import type { MapInfo } from "../../../core/map/metadata.ts";
import { mapStyle } from "../../../renderer/map/style/map-style.ts";
import type { MapColour, MapColours } from "../../../renderer/theme/map-colours.ts";

const COLOURS = new Proxy({} as MapColours, {
  get: (_, name: MapColour | "shadeStrength") => (name === "shadeStrength" ? 0.2 : "#123456"),
});
const INFO: MapInfo = {
  id: "t",
  title: "Test",
  bounds: [10, 47, 11, 48],
  minZoom: 8,
  maxZoom: 14,
  roles: { contour: { layer: "contour", elevation: "ele", unit: "m", index: "index" } },
  rolesFrom: "metadata",
  interval: { value: 10, unit: "m" },
  source: null,
  date: null,
  attribution: null,
  datum: null,
  invented: true,
  elevationCellM: null,
};
const styleOf = (info: MapInfo) =>
  mapStyle({ info, tiles: "pmtiles://a/{z}/{x}/{y}", terrain: null }, COLOURS, {
    Name: "https://localhost/a.woff2",
  });
const byId = (info: MapInfo) => new Map(styleOf(info).layers.map((layer) => [layer.id, layer]));

// The specification's own validator is the reference: @maplibre/maplibre-gl-style-spec.
describe("what a map says of its elevation model", () => {
  const own = { ...INFO, dataEdge: "dataEdge", contourLabels: "contourLabel", filled: "filled" };

  test("is a valid style", () => {
    expect(validateStyleMin(styleOf(own) as never)).toEqual([]);
  });

  test("the edge of the data is a line with words, only where the map has one", () => {
    expect(byId(own).get("data-edge-line")).toMatchObject({ type: "line", "source-layer": "dataEdge" });
    expect(byId(own).get("filled-hatch")).toMatchObject({ type: "fill", "source-layer": "filled" });
    expect(byId(INFO).has("filled-hatch")).toBe(false);
    expect(byId(own).get("data-edge-words")).toMatchObject({
      layout: { "text-field": "No heights beyond this line" },
    });
    expect([...byId(INFO).keys()].filter((id) => id.startsWith("data-edge"))).toEqual([]);
  });

  test("heights stand where the map says up to its closest zoom, and wherever there is room beyond", () => {
    const labels = byId(own).get("contour-labels");
    const along = byId(own).get("contour-height");
    expect(labels).toMatchObject({ "source-layer": "contourLabel", minzoom: 12.5, maxzoom: 15 });
    expect(along).toMatchObject({ minzoom: 15 });
    expect(byId(INFO).get("contour-height")).toMatchObject({ minzoom: 12.5 });
    expect(byId(INFO).has("contour-labels")).toBe(false);
  });

  test("figures are turned by the map's angle", () => {
    const labels = byId(own).get("contour-labels");
    if (labels?.type !== "symbol") throw new Error("no labels");
    const turn = createExpression(labels.layout?.["text-rotate"], "layers[0].layout.text-rotate");
    if (turn.result !== "success") throw new Error("no expression");
    const feature = { type: 1 as const, properties: { ele: 500, angle: -137 } };
    expect(turn.value.evaluate({ zoom: 14 }, feature)).toBe(-137);
  });
});
