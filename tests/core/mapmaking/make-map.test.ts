import { beforeAll, describe, expect, it } from "vitest";
import { classifyRings } from "@mapbox/vector-tile";
import { Fault } from "../../../core/fault.ts";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation-grid.ts";
import { makeMap, type MadeMap, type MapRequest } from "../../../core/mapmaking/make-map.ts";
import { featuresAt, type Found, openArchive, terrainReader } from "./read-back.ts";

/** A plane that rises 2 m a column eastwards and 1 m a row southwards, 100 by 80 samples of 1″ at 10° E, 45° N. */
const plane: ElevationGrid = {
  key: "plane",
  columns: 100,
  rows: 80,
  heights: Float32Array.from({ length: 8000 }, (_, i) => 500 + 2 * (i % 100) + Math.floor(i / 100)),
  origin: [10, 45],
  step: [1 / 3600, -1 / 3600],
  crs: WGS84,
};
const planeHeight = (lon: number, lat: number): number => 500 + 2 * (lon - 10) * 3600 + (45 - lat) * 3600;

const about = {
  title: "Plane",
  source: "made for a test",
  date: "2026-03-01",
  attribution: "nobody",
  datum: "none",
  invented: true,
} as const;
const request: MapRequest = {
  elevation: plane,
  interval: { value: 10, unit: "m" },
  about,
  features: [
    {
      role: "path",
      geometry: {
        type: "LineString",
        coordinates: [
          [10.001, 44.99],
          [10.02, 44.985],
        ],
      },
      attributes: { name: "Long path", class: "path" },
    },
    {
      role: "wood",
      geometry: {
        type: "Polygon",
        coordinates: [
          // Counter-clockwise with a clockwise hole, as in RFC 7946; tiles wind the other way round.
          [
            [10.002, 44.98],
            [10.022, 44.98],
            [10.022, 44.995],
            [10.002, 44.995],
            [10.002, 44.98],
          ],
          [
            [10.006, 44.985],
            [10.006, 44.99],
            [10.012, 44.99],
            [10.012, 44.985],
            [10.006, 44.985],
          ],
        ],
      },
    },
    {
      role: "name",
      geometry: { type: "Point", coordinates: [10.01, 44.99] },
      attributes: { name: "Middle" },
    },
  ],
};

describe("a map of a plane", () => {
  let made: MadeMap;
  let found: Found[];
  const of = (layer: string): Found[] => found.filter((f) => f.layer === layer);
  beforeAll(async () => {
    made = await makeMap(request);
    found = await featuresAt(openArchive(made.archive), 14);
  });

  it("has contours at every ten metres, each fifth an index contour, on their level", () => {
    const levels = new Set(of("contour").map(({ feature }) => feature.properties["ele"]));
    // 500 m is the lowest corner itself; the highest is 500 + 2·99 + 79 = 777 m.
    expect([...levels].map(Number).sort((a, b) => a - b)).toEqual(
      Array.from({ length: 27 }, (_, i) => 510 + 10 * i),
    );
    for (const { feature, tile } of of("contour")) {
      const { ele, index } = feature.properties;
      expect(index).toBe(Number(ele) % 50 === 0);
      const { geometry } = feature.toGeoJSON(tile[1], tile[2], tile[0]);
      const lines =
        geometry.type === "LineString"
          ? [geometry.coordinates]
          : geometry.type === "MultiLineString"
            ? geometry.coordinates
            : [];
      expect(lines.length).toBeGreaterThan(0);
      // A unit of a tile is 0.4 m here, a cell 22 by 31 m: half a unit is 0.02 m of height.
      for (const [lon, lat] of lines.flat())
        expect(Math.abs(planeHeight(lon!, lat!) - Number(ele))).toBeLessThan(0.05);
    }
  });

  it("keeps features' attributes, and winds areas as MVT 2.1 says", () => {
    expect(of("path")[0]?.feature.properties).toEqual({ name: "Long path", class: "path" });
    expect(of("name").map(({ feature }) => feature.properties)).toEqual([{ name: "Middle" }]);
    expect(of("wood").length).toBeGreaterThan(0);
    let holes = 0;
    for (const { feature } of of("wood")) {
      expect(feature.type).toBe(3);
      const rings = feature.loadGeometry();
      const area = (ring: { x: number; y: number }[]): number =>
        ring.reduce(
          (sum, p, i) =>
            sum + p.x * (ring[(i + 1) % ring.length]?.y ?? 0) - (ring[(i + 1) % ring.length]?.x ?? 0) * p.y,
          0,
        );
      // MVT 2.1 §4.3.3.3: the first ring is exterior, with a positive area by the surveyor's formula.
      expect(area(rings[0] ?? [])).toBeGreaterThan(0);
      const polygons = classifyRings(rings);
      holes += polygons.reduce((sum, polygon) => sum + polygon.length - 1, 0);
    }
    expect(holes).toBeGreaterThan(0);
  });

  it("says what it is in its metadata", async () => {
    const archive = openArchive(made.archive);
    const header = await archive.getHeader();
    expect([header.minZoom, header.maxZoom]).toEqual([8, 14]);
    expect(header.minLon).toBeCloseTo(10, 6);
    expect(header.maxLat).toBeCloseTo(45, 6);
    expect(header.maxLon).toBeCloseTo(10 + 99 / 3600, 6);
    expect(header.minLat).toBeCloseTo(45 - 79 / 3600, 6);
    const metadata = (await archive.getMetadata()) as Record<string, unknown>;
    expect(metadata).toMatchObject({
      name: "Plane",
      attribution: "nobody",
      legwright: {
        version: 1,
        ...about,
        interval: { value: 10, unit: "m" },
        roles: {
          contour: { layer: "contour", elevation: "ele", unit: "m", index: "index" },
          path: { layer: "path", name: "name" },
          wood: { layer: "wood" },
        },
      },
    });
    expect(metadata["vector_layers"]).toContainEqual({
      id: "contour",
      fields: { ele: "Number", index: "Boolean" },
      minzoom: 8,
      maxzoom: 14,
    });
  });

  it("has terrain tiles that give the plane's heights", async () => {
    const at = await terrainReader(made.terrain);
    for (const [c, r] of [
      [2.5, 2.5],
      [50.2, 40.7],
      [96.4, 76.1],
      [3, 76],
    ] as const) {
      const [lon, lat] = [10 + c / 3600, 45 - r / 3600];
      // Heights are rounded to 1/8 m.
      expect(Math.abs(at(lon, lat) - planeHeight(lon, lat))).toBeLessThan(0.07);
    }
    expect(at(9.99, 45.01)).toBeNaN();
  });
});

describe("making a map", () => {
  const faultOf = async (change: Partial<MapRequest>): Promise<string> => {
    try {
      await makeMap({ ...request, features: [], ...change });
    } catch (thrown) {
      return Fault.from(thrown).code;
    }
    return "no fault";
  };

  it("refuses what makes no sense", async () => {
    expect(await faultOf({ interval: { value: 0, unit: "m" } })).toBe("bad-argument");
    expect(await faultOf({ interval: { value: -10, unit: "m" } })).toBe("bad-argument");
    expect(await faultOf({ interval: { value: 0.001, unit: "ft" } })).toBe("bad-argument");
    expect(await faultOf({ zooms: { min: 8, max: 30 } })).toBe("bad-argument");
    expect(await faultOf({ elevation: { ...plane, heights: new Float32Array(7999) } })).toBe("bad-elevation");
    expect(await faultOf({ elevation: { ...plane, heights: new Float32Array(8000).fill(Number.NaN) } })).toBe(
      "bad-elevation",
    );
    expect(await faultOf({ elevation: { ...plane, heights: new Float32Array(8000).fill(-32768) } })).toBe(
      "bad-elevation",
    );
    expect(await faultOf({ elevation: { ...plane, origin: [1000, 45] } })).toBe("bad-elevation");
    const line = (coordinates: number[][]): Partial<MapRequest> => ({
      features: [{ role: "path", geometry: { type: "LineString", coordinates } }],
    });
    expect(
      await faultOf(
        line([
          [10, 45],
          [Number.NaN, 45],
        ]),
      ),
    ).toBe("bad-argument");
    expect(await faultOf(line([[10, 45]]))).toBe("bad-argument");
  });

  it("tells how far it is, never going back, and stops when cancelled", async () => {
    const seen: number[] = [];
    const controller = new AbortController();
    await makeMap(request, { progress: ({ done }) => void seen.push(done) });
    expect(seen.length).toBeGreaterThan(2);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(1);
    controller.abort();
    await expect(makeMap(request, { signal: controller.signal })).rejects.toMatchObject({
      code: "cancelled",
    });
  });
});
