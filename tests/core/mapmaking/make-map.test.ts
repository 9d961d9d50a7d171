import { beforeAll, describe, expect, it } from "vitest";
import { classifyRings } from "@mapbox/vector-tile";
import { Fault } from "../../../core/fault.ts";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import type { MadeMap, MapRequest } from "../../../core/mapmaking/map-request.ts";
import { readModel } from "./elevation-fixture.ts";
import { placeGrid } from "../../../core/mapmaking/elevation/grid-placement.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { openTerrain } from "../../../core/terrain/terrain-tiles.ts";
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
      fields: { ele: "Number", index: "Boolean", depression: "Boolean" },
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

describe("a map of real ground in feet", () => {
  let made: MadeMap;
  let found: Found[];
  let grid: ElevationGrid;
  const of = (layer: string): Found[] => found.filter((f) => f.layer === layer);
  const linesOf = ({ feature, tile }: Found): (readonly [number, number])[][] => {
    const { geometry } = feature.toGeoJSON(tile[1], tile[2], tile[0]);
    const lines =
      geometry.type === "LineString"
        ? [geometry.coordinates]
        : geometry.type === "MultiLineString"
          ? geometry.coordinates
          : [];
    return lines.map((line) => line.map(([lon, lat]) => [lon!, lat!]));
  };
  beforeAll(async () => {
    grid = await readModel("bigtujunga-crop-srtm30m-epsg32611");
    made = await makeMap({ elevation: grid, interval: { value: 200, unit: "ft" }, about });
    found = await featuresAt(openArchive(made.archive), 14);
  });

  it("has contours on their level, counted in feet", async () => {
    const model = await openTerrain(bytesSource("terrain", made.terrain));
    await model.prepare(made.report.bounds);
    const levels = new Set<number>();
    let worst = 0;
    for (const contour of of("contour")) {
      const { ele, index } = contour.feature.properties;
      levels.add(Number(ele));
      expect(Number(ele) % 200).toBe(0);
      expect(index).toBe(Number(ele) % 1000 === 0);
      const places = linesOf(contour).flat();
      contour.feature
        .loadGeometry()
        .flat()
        .forEach(({ x, y }, i) => {
          // Where a line is cut at the buffer's edge it is inside a cell: on the chord, not on the curve of the level.
          if (x < 0 || y < 0 || x > 4096 || y > 4096) return;
          const h = model.at(places[i]!);
          if (!Number.isNaN(h)) worst = Math.max(worst, Math.abs(h - Number(ele) * 0.3048));
        });
    }
    // gdalinfo -stats of the crop: 701 to 1888 m are 2300 to 6194 ft.
    expect([Math.min(...levels), Math.max(...levels)]).toEqual([2400, 6000]);
    // A unit of a tile is 0.48 m and the steepest cells fall by more than their width; heights are rounded to 1/16 m;
    // smoothing moves a vertex by half a metre of height at most.
    expect(worst).toBeLessThan(0.8 + 0.5);
  });

  it("has derived streams, ridges, valleys and spot heights, marked as derived", () => {
    for (const layer of ["stream", "ridge", "valley", "spotHeight"]) {
      expect(of(layer).length, layer).toBeGreaterThan(10);
      for (const { feature } of of(layer)) expect(feature.properties["derived"]).toBe(true);
    }
    expect(new Set(of("stream").map(({ feature }) => feature.properties["class"]))).toContain("stream");
    const placement = placeGrid(grid);
    for (const { feature, tile } of of("spotHeight")) {
      const { geometry } = feature.toGeoJSON(tile[1], tile[2], tile[0]);
      const [lon, lat] = geometry.type === "Point" ? geometry.coordinates : [];
      const [c, r] = placement.toGrid([lon!, lat!]);
      // Points lie on samples, to a tile's unit, and say their height to the foot.
      expect(Math.hypot(c - Math.round(c), r - Math.round(r))).toBeLessThan(0.03);
      const heightM = grid.heights[Math.round(r) * grid.columns + Math.round(c)]!;
      expect(Number(feature.properties["ele"])).toBe(Math.round(heightM / 0.3048));
    }
  });

  it("opens as a map in the program's own reader", async () => {
    const map = await openMap(bytesSource("map", made.archive));
    expect(map.info).toMatchObject({
      title: "Plane",
      invented: true,
      rolesFrom: "metadata",
      interval: { value: 200, unit: "ft" },
    });
    const [west, south, east, north] = made.report.bounds;
    const box = [west + 0.03, south + 0.03, east - 0.03, north - 0.03] as const;
    await map.prepare(box);
    const kinds = new Set(map.lines(box).map(({ kind }) => kind));
    expect([...kinds].sort((a, b) => a.localeCompare(b))).toEqual(["contour", "ridge", "stream", "valley"]);
    const contour = map.lines(box, new Set(["contour"] as const)).find(({ index }) => index);
    expect(contour!.elevationM / 0.3048 / 1000).toBeCloseTo(
      Math.round(contour!.elevationM / 0.3048 / 1000),
      6,
    );
  });

  it("draws only index contours and big streams at low zooms", async () => {
    const low = await featuresAt(openArchive(made.archive), 8);
    for (const { layer, feature } of low) {
      if (layer === "contour") expect(Number(feature.properties["ele"]) % 1000).toBe(0);
      expect(["contour", "stream", "dataEdge"]).toContain(layer);
    }
  });
});

describe("making a map", () => {
  it("leaves out what it is told to leave out", async () => {
    const { report } = await makeMap({
      ...request,
      derive: { streams: false, ridges: false, spotHeights: false },
    });
    expect(Object.keys(report.features).sort((a, b) => a.localeCompare(b))).toEqual([
      "contour",
      "name",
      "path",
      "wood",
    ]);
  });

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
    // Nothing to draw: flat ground between two contours.
    expect(await faultOf({ elevation: { ...plane, heights: new Float32Array(8000).fill(505) } })).toBe(
      "bad-argument",
    );
    // Off the earth, as when latitude and longitude are swapped; beyond the projection; across 180°.
    for (const origin of [
      [1000, 45],
      [45, 110],
      [10, 89],
      [179.99, 45],
    ] as const)
      expect(await faultOf({ elevation: { ...plane, origin } })).toBe("bad-elevation");
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
