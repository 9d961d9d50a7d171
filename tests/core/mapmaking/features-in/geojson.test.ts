import { describe, expect, it } from "vitest";
import { bytesFile, noTick } from "../../../../core/files/feature-file.ts";
import { readGeoJson } from "../../../../core/mapmaking/features-in/geojson.ts";
import { crsNames } from "../../../../core/mapmaking/features-in/to-wgs84.ts";
import { type Collected, collect, faultOf, readAll, textFile } from "./support.ts";

const read = (text: string, name = "f.geojson"): Promise<Collected> =>
  collect((emit, passed) => readGeoJson(textFile(name, text), null, crsNames(), emit, passed, noTick));
const feature = (geometry: unknown, properties: unknown = {}): string =>
  JSON.stringify({ type: "Feature", properties, geometry });
const collection = (features: readonly string[], more = ""): string =>
  `{"type":"FeatureCollection",${more}"features":[${features.join(",\n")}]}`;
const line = { type: "LineString", coordinates: [[10, 45], [10.1, 45.1]] }; // prettier-ignore

/** RFC 7946, appendix A, the examples of each geometry; positions as printed there. */
const RFC = {
  Point: [100, 0],
  LineString: [[100, 0], [101, 1]],
  Polygon: [[[100, 0], [101, 0], [101, 1], [100, 1], [100, 0]], [[100.8, 0.8], [100.8, 0.2], [100.2, 0.2], [100.2, 0.8], [100.8, 0.8]]],
  MultiPoint: [[100, 0], [101, 1]],
  MultiLineString: [[[100, 0], [101, 1]], [[102, 2], [103, 3]]],
  MultiPolygon: [[[[102, 2], [103, 2], [103, 3], [102, 3], [102, 2]]], [[[100, 0], [101, 0], [101, 1], [100, 1], [100, 0]], [[100.2, 0.2], [100.2, 0.8], [100.8, 0.8], [100.8, 0.2], [100.2, 0.2]]]],
}; // prettier-ignore

describe("GeoJSON", () => {
  it.each(Object.entries(RFC))("reads RFC 7946's %s", async (type, coordinates) => {
    const { features } = await read(feature({ type, coordinates }));
    const all = features.flatMap(({ shape }) =>
      (shape.type === "area" ? shape.polygons.flat() : [shape.coords]).flatMap((c) => [...c]),
    );
    expect(all.sort((a, b) => a - b)).toEqual(coordinates.flat(3).sort((a, b) => a - b));
    const kinds = { Point: "point", LineString: "line", Polygon: "area" } as Record<string, string>;
    expect(new Set(features.map(({ shape }) => shape.type))).toEqual(
      new Set([kinds[type.replace("Multi", "")]]),
    );
  });

  it("reads a collection of geometries in a feature, a bare geometry, and a feature without one", async () => {
    const nested = { type: "GeometryCollection", geometries: [line, { type: "Point", coordinates: [1, 2] }] };
    expect((await read(feature(nested))).features.map(({ shape }) => shape.type)).toEqual(["line", "point"]);
    expect((await read(JSON.stringify(line))).features).toHaveLength(1);
    expect((await read(feature(null))).passed.noShape).toBe(1);
  });

  it("reads a feature a line, with and without RFC 8142's separators, and with a mark of UTF-8", async () => {
    const three = [1, 2, 3].map((n) => feature(line, { N: n }));
    for (const text of [
      three.join("\n"),
      three.map((t) => `\u001e${t}\n`).join(""),
      `\ufeff${three.join("\r\n")}\n`,
    ]) {
      const { features } = await read(text, "f.geojsonl");
      expect(features.map(({ tags, where }) => [tags["n"], where])).toEqual([[1, "line 1"], [2, "line 2"], [3, "line 3"]]); // prettier-ignore
    }
  });

  it("is split rightly wherever pieces of the file end", async () => {
    // Braces, brackets and quotes inside text; "features" as a value and as a key further down.
    const tricky = { a: 'fea]}"{[\\', b: "features", ключ: "значение", c: { features: [1] }, d: [{}] };
    const text = collection([feature(line, tricky), feature(line, { last: true })], '"name":"features",');
    const bytes = new TextEncoder().encode(text);
    for (let size = 1; size < 40; size++) {
      const file = {
        key: "f",
        sizeBytes: bytes.length,
        read: async (at: number, n: number) => bytes.subarray(at, at + Math.min(n, size)),
      };
      const { features } = await collect((emit, passed) =>
        readGeoJson(file, null, crsNames(), emit, passed, noTick),
      );
      expect(features.map(({ tags }) => tags)).toEqual([
        { a: tricky.a, b: "features", ключ: "значение" },
        { last: true },
      ]);
    }
  });

  it("takes a crs member before and after the features", async () => {
    // 1600000, 5400000 in EPSG:2193: gdaltransform -s_srs EPSG:2193 -t_srs EPSG:4326 (GDAL 3.6.2).
    const point = feature({ type: "Point", coordinates: [1600000, 5400000] });
    const crs = '"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::2193"}}';
    for (const text of [
      collection([point], `${crs},`),
      `{"type":"FeatureCollection","features":[${point}],${crs}}`,
    ]) {
      const { shape } = (await read(text)).features[0]!;
      const { coords } = shape as { coords: Float64Array };
      expect(coords[0]).toBeCloseTo(173, 9);
      expect(coords[1]).toBeCloseTo(-41.5516645234528, 9);
    }
  });

  it.each<[string, string, string, RegExp]>([
    ["no JSON", "bad-features", "<html>", /no GeoJSON.*line 1/],
    [
      "a broken feature",
      "bad-features",
      collection([feature(line), '{"type":"Feature","geometry":{,}}']),
      /f\.geojson, feature 2/,
    ],
    ["a broken line", "bad-features", `${feature(line)}\n{"type":}`, /f\.geojson, line 2/],
    ["cut short", "bad-features", collection([feature(line)]).slice(0, -4), /cut short/],
    ["a list", "bad-features", "[1,2]", /list is no GeoJSON/],
    ["another kind of JSON", "bad-features", '{"type":"Topology"}', /no GeoJSON/],
    ["features that are none", "bad-features", collection(["7"]), /no object/],
    [
      "text for a number",
      "bad-features",
      feature({ type: "Point", coordinates: ["10", 45] }),
      /pair of numbers/,
    ],
    [
      "a line of one position",
      "bad-features",
      feature({ type: "LineString", coordinates: [[1, 1]] }),
      /one position/,
    ],
    [
      "an open ring",
      "bad-features",
      feature({
        type: "Polygon",
        coordinates: [
          [
            [0, 0],
            [1, 0],
            [1, 1],
            [0, 1],
          ],
        ],
      }),
      /not closed/,
    ],
    ["an unknown geometry", "bad-features", feature({ type: "Circle", coordinates: [1, 1] }), /Circle/],
    [
      "metres without a system",
      "no-crs",
      feature({ type: "Point", coordinates: [1600000, 5400000] }),
      /no degrees.*--features-crs/,
    ],
    [
      "an unknown system",
      "no-crs",
      collection([feature(line)], '"crs":{"type":"name","properties":{"name":"EPSG:99999"}},'),
      /EPSG:99999/,
    ],
    [
      "latitude first",
      "bad-features",
      feature({ type: "Point", coordinates: [-34.1, 120.5] }),
      /latitude first/,
    ],
    [
      "deep nesting",
      "bad-features",
      `{"type":"Feature","geometry":${"[".repeat(200000)}${"]".repeat(200000)}}`,
      /f\.geojson/,
    ],
  ])("is one fault that names the place: %s", async (_, code, text, message) => {
    const fault = await faultOf(read(text));
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(message);
  });

  it("is told to have its axes swapped when all of it lies on the map only so", async () => {
    const points = [1, 2, 3].map((n) =>
      feature({ type: "Point", coordinates: [45 + n / 100, 10 + n / 100] }),
    );
    const bounds = [9, 44, 11, 46] as const;
    const fault = await faultOf(readAll([textFile("f.geojson", collection(points))], { bounds }));
    expect(fault.message).toMatch(/exchanged.*latitude first.*f\.geojson/);
    // One that lies on the map as it is says that the file is right.
    const right = [...points, feature({ type: "Point", coordinates: [10, 45] })];
    expect(
      (await readAll([textFile("f.geojson", collection(right))], { bounds })).report.files[0]!.onMap,
    ).toBe(1);
  });

  it("is no GeoJSON when the text is in another encoding", async () => {
    const bytes = Uint8Array.from(feature(line, { name: "Süd" }), (c) => c.charCodeAt(0));
    const fault = await faultOf(readAll([bytesFile("f.geojson", bytes)]));
    expect(fault.message).toMatch(/UTF-8/);
  });
});
