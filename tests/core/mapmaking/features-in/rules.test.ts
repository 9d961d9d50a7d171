import { describe, expect, it } from "vitest";
import { keptAttributes, metresOf } from "../../../../core/mapmaking/features-in/kept-attributes.ts";
import { matcher } from "../../../../core/mapmaking/features-in/match-rules.ts";
import { OSM_RULES } from "../../../../core/mapmaking/features-in/osm-rules.ts";
import type { Tags } from "../../../../core/mapmaking/features-in/raw-feature.ts";
import { type GeometryKind, parseRules } from "../../../../core/mapmaking/features-in/rule-schema.ts";
import { faultOf, fixture, readAll, textFile } from "./support.ts";

const match = matcher(OSM_RULES);
const rolesOf = (tags: Tags, ...kinds: GeometryKind[]): unknown => {
  const found = match(tags, kinds);
  return found === null || found === "dropped"
    ? found
    : found.map(({ role, class: what }) => `${role} ${what}`);
};

/**
 * Tags with the meaning that the OpenStreetMap wiki's page "Map features" gives them, and the role of the map that
 * has this meaning.
 */
const TAGGED: readonly [Tags, GeometryKind, string[] | null | "dropped"][] = [
  [{ waterway: "river", intermittent: "yes" }, "line", ["stream river"]],
  [{ waterway: "ditch" }, "line", ["stream ditch"]],
  [{ waterway: "stream" }, "area", null],
  [{ natural: "water" }, "area", ["water lake"]],
  [{ natural: "water", water: "river" }, "area", ["water river"]],
  [{ highway: "track", tracktype: "grade4" }, "line", ["path track"]],
  [{ highway: "path", trail_visibility: "horrible" }, "line", ["path path"]],
  [{ highway: "motorway" }, "line", ["road motorway"]],
  [{ highway: "service", service: "driveway" }, "line", ["road driveway"]],
  [{ highway: "service" }, "line", ["road service"]],
  [{ highway: "proposed" }, "line", "dropped"],
  [{ railway: "narrow_gauge" }, "line", ["rail narrow_gauge"]],
  [{ railway: "abandoned" }, "line", "dropped"],
  [{ railway: "abandoned", highway: "path" }, "line", ["path path"]],
  [{ barrier: "wall" }, "line", ["wall wall"]],
  [{ barrier: "wall", wall: "dry_stone" }, "line", ["wall stone"]],
  [{ barrier: "hedge" }, "line", ["fence hedge"]],
  [{ power: "line" }, "line", ["powerLine line"]],
  [{ power: "tower" }, "point", null],
  [{ natural: "cliff" }, "line", ["cliff cliff"]],
  [{ natural: "wood" }, "area", ["wood wood"]],
  [{ landuse: "forest", access: "private" }, "area", ["wood forest", "restricted private"]],
  [{ natural: "wetland", wetland: "bog" }, "area", ["wetland bog"]],
  [{ building: "barn" }, "area", ["building barn"]],
  [{ building: "no" }, "area", null],
  [{ boundary: "administrative", admin_level: "6" }, "line", ["boundary administrative"]],
  [{ boundary: "administrative", admin_level: "10" }, "line", null],
  [{ landuse: "military" }, "area", ["restricted military"]],
  [{ military: "danger_area" }, "area", ["restricted danger_area"]],
  [{ leisure: "nature_reserve" }, "area", ["boundary nature_reserve"]],
  [{ leisure: "nature_reserve", access: "no" }, "area", ["restricted reserve", "boundary nature_reserve"]],
  [
    { boundary: "protected_area", protect_class: "1a" },
    "area",
    ["restricted strict_reserve", "boundary protected_area"],
  ],
  [{ boundary: "protected_area", protect_class: "5" }, "area", ["boundary protected_area"]],
  [{ natural: "peak", ele: "1200" }, "point", ["peak peak"]],
  [{ natural: "saddle", ele: "900", name: "Gap" }, "point", ["spotHeight saddle", "name saddle"]],
  [{ place: "hamlet", name: "Beck" }, "point", ["name hamlet"]],
  [{ amenity: "parking" }, "area", null],
];

describe("built-in rules", () => {
  it.each(TAGGED)("%j as a %s", (tags, kind, roles) => {
    expect(rolesOf(tags, kind)).toEqual(roles);
  });

  it("take a closed way for a line or an area as its tags mean it", () => {
    expect(rolesOf({ barrier: "fence" }, "line", "area")).toEqual(["fence fence"]);
    expect(rolesOf({ landuse: "forest" }, "line", "area")).toEqual(["wood forest"]);
    expect(match({ natural: "cliff" }, ["line", "area"])).toMatchObject([{ geometry: "line" }]);
  });
});

describe("attributes that are kept", () => {
  // Source of the notations: OpenStreetMap wiki, Map features/Units. 1 ft is 0.3048 m exactly, 1 in 0.0254 m.
  it.each<[string | number, number | null]>([
    ["12", 12],
    [12.5, 12.5],
    ["12.5 m", 12.5],
    ["3,5", 3.5],
    ["1,234", 1234],
    ["4,049 ft", 1234.1352],
    ["6'", 1.8288],
    ["5'6\"", 1.6764],
    ["2 km", 2000],
    ["-3 m", -3],
    ["about 12", null],
    ["", null],
  ])("reads %j as %s metres", (text, metres) => {
    if (metres === null) expect(metresOf(text)).toBeNull();
    else expect(metresOf(text)).toBeCloseTo(metres, 9);
  });

  it("are what figures and words use, heights in the map's unit", () => {
    const tags = { name: "Fern Beck", waterway: "stream", width: "5 ft", seasonal: "spring", tunnel: "culvert", layer: "-1", bridge: "no", ele: "100", website: "x", access: "private" }; // prettier-ignore
    expect(keptAttributes(tags, "stream", "ft")).toEqual({ name: "Fern Beck", class: "stream", width: 1.5, intermittent: true, tunnel: "yes", layer: -1, ele: 328.1, access: "private" }); // prettier-ignore
  });

  it("has no height where the data says what no ground has", () => {
    expect(keptAttributes({ ele: "99999" }, null, "m")).toEqual({});
    expect(keptAttributes({ ele: "unknown" }, null, "m")).toEqual({});
    expect(keptAttributes({ elev_ft: 4049 }, null, "m")).toEqual({ ele: 1234.1 });
  });
});

describe("a person's rules", () => {
  const rules = (list: unknown): ReturnType<typeof parseRules> =>
    parseRules(JSON.stringify({ rules: list }), "mine.json");

  it("go before the built-in ones, may add attributes, and may leave features out", async () => {
    const mine = rules([
      { when: { natural: "peak", name: "Low Fell" }, role: null, comment: "quarried away" },
      {
        when: { highway: "crossing" },
        geometry: "point",
        role: "name",
        class: "gate",
        set: { surveyed: 2026, name: "Lane end" },
      },
      {
        when: { highway: "secondary", surface: { not: ["gravel"] }, layer: { least: 1 } },
        role: "path",
        class: "$ref",
      },
    ]);
    const { features, report } = await readAll([fixture("uplands.osm")], { rules: mine });
    expect(
      features.filter(({ role }) => role === "peak").map(({ attributes }) => attributes["name"]),
    ).toEqual(["High Fell"]);
    expect(features.find(({ attributes }) => attributes["surveyed"] === 2026)).toMatchObject({
      role: "name",
      attributes: { class: "gate" },
    });
    expect(features.find(({ attributes }) => attributes["class"] === "B 7")!.role).toBe("path");
    expect(report.dropped).toBe(1);
  });

  it("see the file's name", async () => {
    const mine = rules([{ when: { "@layer": "mine" }, geometry: "line", role: "wall" }]);
    const line = '{"type":"LineString","coordinates":[[10,45],[10.1,45]]}';
    const read = await readAll([textFile("mine.geojson", line), textFile("other.geojson", line)], {
      rules: mine,
    });
    expect(read.report.roles).toEqual({ wall: 1 });
    expect(read.report.unmapped).toEqual([{ what: "layer “other” (lines)", count: 1 }]);
  });

  it.each<[string, string, RegExp]>([
    ["no JSON", "{", /no JSON.*mine\.json/],
    ["no list", '{"rules":{}}', /mine\.json, rules/],
    [
      "an unknown role",
      '{"rules":[{"when":{"a":"b"},"role":"path"},{"when":{"a":"b"},"role":"contour"}]}',
      /Give a role.*mine\.json, rules\[2\]\.role/,
    ],
    ["no condition", '{"rules":[{"when":{},"role":"path"}]}', /needs a condition.*rules\[1\]\.when/],
    ["an odd condition", '{"rules":[{"when":{"a":{"like":"b"}},"role":"path"}]}', /rules\[1\]\.when\.a/],
    [
      "a word too many",
      '{"rules":[{"when":{"a":"b"},"role":"path","colour":"red"}]}',
      /“colour”.*rules\[1\]\.colour/,
    ],
    ["no role", '{"rules":[{"when":{"a":"b"}}]}', /rules\[1\]\.role/],
    [
      "a zoom that is none",
      '{"rules":[{"when":{"a":"b"},"role":"path","minZoom":99}]}',
      /rules\[1\]\.minZoom/,
    ],
  ])("are refused with the place: %s", async (_, text, message) => {
    const fault = await faultOf(Promise.resolve().then(() => parseRules(text, "mine.json")));
    expect(fault.code).toBe("bad-features");
    expect(fault.message).toMatch(message);
  });
});

describe("what is guessed", () => {
  const read = async (name: string, properties: Tags, type = "LineString"): Promise<unknown> => {
    const coordinates = type === "LineString" ? [[10, 45], [10.1, 45]] : type === "Point" ? [10, 45] : [[[10, 45], [10.1, 45], [10.1, 45.1], [10, 45]]]; // prettier-ignore
    const text = JSON.stringify({ type: "Feature", properties, geometry: { type, coordinates } });
    const { report } = await readAll([textFile(`${name}.geojson`, text)]);
    return { ...report.roles, guessed: report.guessed.map(({ what }) => what).join() };
  };
  it("comes from fields that classify and from the layer's name, and is told", async () => {
    expect(await read("data", { FCLASS: "track" })).toEqual({
      path: 1,
      guessed: "fclass = track as highway=track",
    });
    expect(await read("data", { type: "Marsh" }, "Polygon")).toEqual({
      wetland: 1,
      guessed: "type = Marsh as natural=wetland",
    });
    expect(await read("NationalTrails", {})).toEqual({
      path: 1,
      guessed: "layer “NationalTrails” as highway=path",
    });
    expect(await read("lakes_2020", {}, "Polygon")).toEqual({
      water: 1,
      guessed: "layer “lakes_2020” as natural=water",
    });
    expect(await read("powerlines", {})).toEqual({
      powerLine: 1,
      guessed: "layer “powerlines” as power=line",
    });
    expect(await read("soils", {}, "Polygon")).toEqual({ guessed: "" });
    // A tag that is known goes first.
    expect(await read("rivers", { highway: "path" })).toEqual({ path: 1, guessed: "" });
  });
});
