import { validateStyleMin } from "@maplibre/maplibre-gl-style-spec";
import { describe, expect, test } from "vitest";
import { ROLES, type Role } from "../../../core/map/kinds.ts";
import type { MapInfo, RoleBinding } from "../../../core/map/metadata.ts";
import { isIndexContour } from "../../../renderer/map/style/role-layer.ts";
import { mapStyle } from "../../../renderer/map/style/map-style.ts";
import type { MapColour, MapColours } from "../../../renderer/theme/map-colours.ts";
import { createExpression } from "@maplibre/maplibre-gl-style-spec";

const COLOURS = new Proxy({} as MapColours, {
  get: (_, name: MapColour | "shadeStrength") => (name === "shadeStrength" ? 0.2 : "#123456"),
});
const FONTS = { Name: "https://localhost/a.woff2" };

const info = (roles: Partial<Record<Role, RoleBinding>>): MapInfo => ({
  id: "t",
  title: "Test",
  bounds: [10, 47, 11, 48],
  minZoom: 8,
  maxZoom: 14,
  roles,
  rolesFrom: "metadata",
  interval: { value: 10, unit: "m" },
  source: null,
  date: null,
  attribution: null,
  datum: null,
  invented: true,
  elevationCellM: null,
});
const everyRole = Object.fromEntries(
  ROLES.map((role) => [role, { layer: role, name: "name", elevation: "ele", unit: "m", index: "index" }]),
) as Record<Role, RoleBinding>;
const tiles = (roles: Partial<Record<Role, RoleBinding>>, terrain = true) => ({
  info: info(roles),
  tiles: "pmtiles://a/{z}/{x}/{y}",
  terrain: terrain ? { tiles: "pmtiles://b/{z}/{x}/{y}", maxZoom: 13, tileSize: 512 } : null,
});

// The specification's own validator is the reference: @maplibre/maplibre-gl-style-spec.
describe("the map's style", () => {
  test.each([
    ["no map", null],
    ["every role", tiles(everyRole)],
    ["every role, no terrain", tiles(everyRole, false)],
    ["contours alone", tiles({ contour: { layer: "lines", elevation: "height", unit: "ft" } }, false)],
    [
      "a layer that holds more than its role",
      tiles({ path: { layer: "roads", where: { field: "kind", in: ["path", "track"] } } }),
    ],
  ])("is valid with %s", (_, map) => {
    expect(validateStyleMin(mapStyle(map, COLOURS, FONTS) as never)).toEqual([]);
  });

  const sheet = (lines: boolean) => ({
    info: { bounds: [10, 47, 11, 48] as const, minZoom: 9, maxZoom: 15 },
    tiles: "sheet://a/light/{z}/{x}/{y}",
    tileSize: 256,
    opacity: 0.5,
    lines,
  });

  test.each([
    ["and no map", null, true],
    ["over a map", tiles(everyRole), true],
    ["without the map's lines", tiles(everyRole), false],
  ])("is valid with a scanned sheet %s", (_, map, lines) => {
    expect(validateStyleMin(mapStyle(map, COLOURS, FONTS, null, sheet(lines)) as never)).toEqual([]);
  });

  test("a scanned sheet lies lowest, nothing that is filled covers it, and lines go when they are not wanted", () => {
    const { layers, sources } = mapStyle(tiles(everyRole), COLOURS, FONTS, null, sheet(true));
    expect(layers.slice(0, 2).map(({ type }) => type)).toEqual(["background", "raster"]);
    expect(sources["sheet"]).toMatchObject({ tileSize: 256, minzoom: 9, maxzoom: 15 });
    const kinds = new Set(layers.slice(2).map(({ type }) => type));
    expect(kinds).toEqual(new Set(["line", "symbol"]));
    const drawn = new Set(layers.map((layer) => ("source-layer" in layer ? layer["source-layer"] : null)));
    for (const role of ["contour", "stream", "path", "water", "peak"]) expect(drawn).toContain(role);
    expect(mapStyle(tiles(everyRole), COLOURS, FONTS, null, sheet(false)).layers.map(({ id }) => id)).toEqual(
      ["ground", "sheet"],
    );
  });

  test("ridge and valley lines are not drawn, everything else a map has is", () => {
    const drawn = new Set(
      mapStyle(tiles(everyRole), COLOURS, FONTS).layers.map((layer) =>
        "source-layer" in layer ? layer["source-layer"] : null,
      ),
    );
    for (const role of ROLES)
      expect([role, drawn.has(role)]).toEqual([role, role !== "ridge" && role !== "valley"]);
  });

  test("a layer that holds more than its role is filtered", () => {
    const style = mapStyle(
      tiles({ path: { layer: "roads", where: { field: "kind", in: ["path"] } } }),
      COLOURS,
      FONTS,
    );
    const paths = style.layers.filter(({ id }) => id.startsWith("path-"));
    expect(paths.length).toBeGreaterThan(0);
    for (const path of paths)
      expect(JSON.stringify("filter" in path && path.filter)).toContain(
        '["in",["get","kind"],["literal",["path"]]]',
      );
  });

  test("nothing is asked of the network", () => {
    const style = mapStyle(tiles(everyRole), COLOURS, FONTS);
    expect(style.glyphs).toBeUndefined();
    expect(style.sprite).toBeUndefined();
  });
});

describe("index contours", () => {
  const on = (binding: RoleBinding, properties: Record<string, unknown>): unknown => {
    const made = createExpression(isIndexContour(info({ contour: binding })), "layers[0].filter");
    if (made.result !== "success") throw new Error(JSON.stringify(made.value));
    return made.value.evaluate({ zoom: 14 }, { type: "LineString", properties } as never);
  };

  test.each([
    [true, true],
    [1, true],
    ["true", true],
    [false, false],
    [0, false],
    [null, false],
  ])("field %j: %j", (value, expected) => {
    expect(on({ layer: "c", index: "index" }, { index: value })).toBe(expected);
  });

  test("without a field it is every fifth by height", () => {
    const binding = { layer: "c", elevation: "ele" };
    expect([0, 10, 40, 50, 100].map((ele) => on(binding, { ele }))).toEqual([true, false, false, true, true]);
  });
});
