/** Features read from a file and made into a map, read back with other people's readers. */
import { classifyRings } from "@mapbox/vector-tile";
import { beforeAll, describe, expect, it } from "vitest";
import { makeMap } from "../../../../core/mapmaking/make-map.ts";
import type { MapRequest } from "../../../../core/mapmaking/map-request.ts";
import { type ElevationGrid, WGS84 } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { placeGrid } from "../../../../core/mapmaking/elevation/grid-placement.ts";
import type { TileFeature } from "../../../../core/mapmaking/tile-feature.ts";
import { twiceArea } from "../../../../core/mapmaking/tile-clip.ts";
import { featuresAt, type Found, openArchive } from "../read-back.ts";
import { fixture, readAll } from "./support.ts";

/** A hill over the ground of uplands.osm, which reaches from 10.001° to 10.082° E and 45.001° to 45.03° N. */
const hill: ElevationGrid = {
  key: "hill",
  columns: 120,
  rows: 50,
  heights: Float32Array.from(
    { length: 6000 },
    (_, i) => 300 + 200 * Math.exp(-(((i % 120) - 60) ** 2 + (Math.floor(i / 120) - 25) ** 2) / 400),
  ),
  origin: [9.995, 45.035],
  step: [0.0008, -0.0008],
  crs: WGS84,
};
const about = {
  title: "Uplands",
  source: "invented",
  date: null,
  attribution: null,
  datum: null,
  invented: true,
} as const;
const request: MapRequest = {
  elevation: hill,
  interval: { value: 20, unit: "m" },
  about,
  zooms: { min: 12, max: 14 },
};

let prepared: TileFeature[];
let found: Found[];
let roles: Record<string, number | undefined>;
beforeAll(async () => {
  const read = await readAll([fixture("uplands.osm")], { bounds: placeGrid(hill).bounds });
  prepared = read.features;
  const made = await makeMap({ ...request, prepared });
  roles = made.report.features;
  found = await featuresAt(openArchive(made.archive), 14);
}, 60_000);
const of = (layer: string): Found[] => found.filter((one) => one.layer === layer);

describe("a map with features from a file", () => {
  it("has them with their attributes in the layers of their roles", () => {
    const names = (layer: string): unknown[] => of(layer).map(({ feature }) => feature.properties["name"]);
    expect(new Set(names("peak"))).toEqual(new Set(["High Fell", "Low Fell"]));
    expect(new Set(of("peak").map(({ feature }) => feature.properties["ele"]))).toEqual(
      new Set([1234, 1234.1]),
    );
    expect(of("stream")[0]!.feature.properties).toEqual({
      name: "Fern Beck",
      class: "stream",
      width: 1.5,
      intermittent: true,
    });
    expect(of("road")[0]!.feature.properties).toEqual({
      class: "secondary",
      ref: "B 7",
      surface: "asphalt",
      bridge: "yes",
      layer: 1,
    });
    expect(of("path").map(({ feature }) => feature.properties["class"])).toEqual(
      expect.arrayContaining(["path", "track"]),
    );
    expect(new Set(names("name"))).toEqual(new Set(["Nether Beck", "Round Tarn", "Long Wood", "Quiet Moss"]));
    expect(of("restricted").map(({ feature }) => feature.properties["class"])).toEqual(
      expect.arrayContaining(["strict_reserve", "military"]),
    );
  });

  it("has areas wound as MVT 2.1 says, with their holes", () => {
    for (const { role, type, parts } of prepared)
      if (type === 3)
        expect([role, ...parts.map((ring) => Math.sign(twiceArea(ring)))]).toEqual([
          role,
          1,
          ...parts.slice(1).map(() => -1),
        ]);
    const moss = of("wetland").flatMap(({ feature }) => classifyRings(feature.loadGeometry()));
    expect(moss.some((rings) => rings.length > 1)).toBe(true);
    for (const { feature } of found)
      if (feature.type === 3) {
        const [first] = feature.loadGeometry();
        let sum = 0;
        for (let i = 0; i + 1 < first!.length; i++)
          sum += first![i]!.x * first![i + 1]!.y - first![i + 1]!.x * first![i]!.y;
        expect(sum).toBeGreaterThan(0);
      }
  });

  it("derives what the data has none of, and only that, and says so", () => {
    for (const { feature } of [...of("stream"), ...of("peak")])
      expect(feature.properties["derived"]).toBeUndefined();
    expect(of("ridge").length + of("valley").length + of("spotHeight").length).toBeGreaterThan(0);
    for (const layer of ["ridge", "valley", "spotHeight", "cliff"])
      for (const { feature } of of(layer)) expect(feature.properties["derived"]).toBe(true);
    expect(roles["stream"]).toBe(1);
  });

  it("derives what it is told to", async () => {
    const both = await makeMap({
      ...request,
      prepared,
      derive: { streams: true, ridges: false, spotHeights: false, cliffs: false },
    });
    expect(both.report.features["ridge"] ?? 0).toBe(0);
    expect(both.report.features["spotHeight"] ?? 0).toBe(0);
    expect(both.report.features["stream"]!).toBeGreaterThanOrEqual(1);
  }, 60_000);

  it("is cut to the ground the model covers", async () => {
    const bounds = [10.021, 45.021, 10.027, 45.027] as const;
    const { features, report } = await readAll([fixture("uplands.osm")], { bounds });
    // Of all features only the wood reaches in: its hole lies from 22 to 28, its island from 24 to 26 thousandths.
    expect(new Set(features.map(({ role }) => role))).toEqual(new Set(["wood", "name"]));
    // Areas of relations are put together before they are found to lie elsewhere: the bog, and the moss in two roles.
    expect(report.outside).toBe(3);
    const unit = 4096 * 2 ** 14;
    for (const { parts } of features)
      for (const part of parts)
        for (let i = 0; i < part.length; i += 2) {
          const lon = (part[i]! / unit - 0.5) * 360;
          expect(lon).toBeGreaterThan(bounds[0] - 1e-5);
          expect(lon).toBeLessThan(bounds[2] + 1e-5);
        }
  });
});
