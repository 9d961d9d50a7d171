import { describe, expect, it } from "vitest";
import { guessRoles } from "../../../core/map/guess-roles.ts";
import { layerReaders, readersFor } from "../../../core/map/role-readers.ts";
import type { Attributes } from "../../../core/map/features.ts";

const layer = (name: string, ...fields: string[]) => ({ name, fields });
const roleOf = (roles: ReturnType<typeof guessRoles>, name: string, attributes: Attributes): string | null =>
  readersFor(layerReaders({ roles, interval: null }).get(name) ?? [], attributes)?.role ?? null;

// Layer, field and value names as documented by two open schemas: OpenMapTiles (openmaptiles.org/schema) and Shortbread
// (shortbread-tiles.org/schema/1.0). From memory.
describe("roles guessed from an open schema", () => {
  it("with classes in a field `class`", () => {
    const roles = guessRoles([
      layer("water", "class", "intermittent"),
      layer("waterway", "name", "class"),
      layer("landcover", "class", "subclass"),
      layer("transportation", "class", "subclass", "surface"),
      layer("transportation_name", "name", "class"),
      layer("building", "render_height"),
      layer("mountain_peak", "name", "ele", "ele_ft", "class"),
      layer("boundary", "admin_level"),
      layer("place", "name", "class"),
    ]);
    expect(roles.water).toEqual({ layer: "water" });
    expect(roles.stream).toEqual({ layer: "waterway", name: "name" });
    expect(roles.peak).toMatchObject({ layer: "mountain_peak", elevation: "ele", unit: "m", name: "name" });
    expect(roleOf(roles, "transportation", { class: "path" })).toBe("path");
    expect(roleOf(roles, "transportation", { class: "track" })).toBe("path");
    expect(roleOf(roles, "transportation", { class: "secondary" })).toBe("road");
    expect(roleOf(roles, "transportation", { class: "rail" })).toBe("rail");
    expect(roleOf(roles, "transportation", { class: "ferry" })).toBeNull();
    expect(roleOf(roles, "landcover", { class: "wood", subclass: "forest" })).toBe("wood");
    expect(roleOf(roles, "landcover", { class: "wetland", subclass: "bog" })).toBe("wetland");
    expect(roleOf(roles, "landcover", { class: "grass" })).toBeNull();
    expect(roleOf(roles, "transportation_name", { class: "path" })).toBeNull();
  });

  it("with kinds in a field `kind`", () => {
    const roles = guessRoles([
      layer("water_polygons", "kind"),
      layer("water_lines", "kind"),
      layer("streets", "kind", "surface"),
      layer("land", "kind"),
      layer("buildings"),
      layer("boundaries", "admin_level"),
      layer("place_labels", "name", "kind"),
    ]);
    expect(roles.stream?.layer).toBe("water_lines");
    expect(roles.water?.layer).toBe("water_polygons");
    expect(roleOf(roles, "streets", { kind: "footway" })).toBe("path");
    expect(roleOf(roles, "streets", { kind: "residential" })).toBe("road");
    expect(roleOf(roles, "streets", { kind: "rail" })).toBe("rail");
    expect(roleOf(roles, "land", { kind: "forest" })).toBe("wood");
    expect(roleOf(roles, "land", { kind: "swamp" })).toBe("wetland");
  });

  it("of contours finds the elevation and its unit, and leaves out contours without", () => {
    expect(guessRoles([layer("contours", "ele", "idx")]).contour).toEqual({
      layer: "contours",
      elevation: "ele",
      unit: "m",
      index: "idx",
    });
    expect(guessRoles([layer("elev_contour", "elevation_ft")]).contour).toEqual({
      layer: "elev_contour",
      elevation: "elevation_ft",
      unit: "ft",
    });
    expect(guessRoles([layer("contour", "id")]).contour).toBeUndefined();
  });

  it("of several layers that play a role takes all, and none that plays only another", () => {
    const roles = guessRoles([
      layer("natural", "natural"),
      layer("landuse", "landuse"),
      layer("forests"),
      layer("water", "class"),
      layer("rivers", "name"),
      layer("streams", "name"),
    ]);
    expect(roles.wood).toMatchObject({
      layer: "forests",
      also: [{ layer: "natural" }, { layer: "landuse" }],
    });
    expect(roleOf(roles, "landuse", { landuse: "forest" })).toBe("wood");
    expect(roleOf(roles, "landuse", { landuse: "residential" })).toBeNull();
    expect(roleOf(roles, "forests", {})).toBe("wood");
    expect(roles.stream).toMatchObject({
      layer: "rivers",
      also: [{ layer: "streams" }, { layer: "natural" }],
    });
    expect(roles.water).toEqual({ layer: "water" });
    expect(guessRoles([layer("bridges", "name"), layer("places", "name")]).name?.also).toHaveLength(1);
  });

  it("of unknown layers guesses nothing", () =>
    expect(guessRoles([layer("zq", "class"), layer("pois_x"), layer("")])).toEqual({}));
});

describe("what fields say", () => {
  const reader = (binding: object, interval: { value: number; unit: "m" | "ft" } | null = null) =>
    layerReaders({ roles: { contour: { layer: "c", ...binding } }, interval }).get("c")![0]!.reader;

  it("of an elevation in feet is metres", () => {
    // The international foot is 0.3048 m exactly.
    expect(reader({ elevation: "h", unit: "ft" }).elevationM({ h: 1000 })).toBeCloseTo(304.8, 9);
  });
  it("of an elevation in words of digits is read, of anything else is not", () => {
    const r = reader({ elevation: "h" });
    expect(r.elevationM({ h: "1240" })).toBe(1240);
    for (const h of ["", "high", true, Number.POSITIVE_INFINITY]) expect(r.elevationM({ h })).toBeNaN();
    expect(r.elevationM({})).toBeNaN();
  });
  it("of index contours is a field, else every fifth of a known interval", () => {
    expect(reader({ elevation: "h", index: "i" }).index({ h: 7, i: true })).toBe(true);
    expect(reader({ elevation: "h", index: "i" }).index({ h: 50, i: 0 })).toBe(false);
    const fifth = reader({ elevation: "h" }, { value: 20, unit: "m" });
    expect([80, 100, 120, 0, -100].map((h) => fifth.index({ h }))).toEqual([false, true, false, true, true]);
    expect(reader({ elevation: "h" }).index({ h: 100 })).toBe(false);
  });
});
