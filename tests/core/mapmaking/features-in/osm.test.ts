import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { bytesFile, noTick } from "../../../../core/files/feature-file.ts";
import { readOsmXml } from "../../../../core/mapmaking/features-in/osm-xml.ts";
import { openOsmPbf } from "../../../../core/mapmaking/features-in/osm-pbf.ts";
import type { RawFeature } from "../../../../core/mapmaking/features-in/raw-feature.ts";
import {
  type Collected,
  collectOsm,
  concat,
  faultOf,
  fixture,
  fixtureJson,
  fixturePath,
  gdalFeatures,
  HAS_GDAL,
  osmBlob,
  osmFrame,
  type OsmObjects,
  osmPbf,
  type PbfOptions,
} from "./support.ts";

interface Transcribed {
  readonly id: string;
  readonly geometry: unknown;
}
/** What GDAL 3.6.2 makes of the same file; how it was transcribed stands in the folder of fixtures. */
const gdal = fixtureJson("uplands-gdal.json") as Record<"points" | "lines" | "multipolygons", Transcribed[]>;

const objects: OsmObjects = { nodes: [], ways: [], relations: [] };
const file = fixture("uplands.osm");
let xml: Collected;
const pbf = (options?: PbfOptions): Uint8Array => osmPbf(objects, options);

beforeAll(async () => {
  await readOsmXml(
    file,
    {
      node: (id, lon, lat, tags) => void objects.nodes.push({ id, lon, lat, tags }),
      way: (id, refs, tags) => void objects.ways.push({ id, refs: [...refs], tags }),
      relation: (id, members, tags) => void objects.relations.push({ id, members, tags }),
    },
    noTick,
  );
  xml = await collectOsm(file, false);
});

const byWhere = (features: readonly RawFeature[], where: string): RawFeature | undefined =>
  features.find((feature) => feature.where === where);
const flat = (coordinates: unknown): number[] => (coordinates as unknown[]).flat(Infinity) as number[];
const near = (a: ArrayLike<number>, b: readonly number[]): boolean =>
  a.length === b.length && b.every((v, i) => Math.abs(v - a[i]!) < 1.01e-7);

function areaOf(ring: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i + 3 < ring.length; i += 2)
    sum +=
      (ring[i]! - ring[0]!) * (ring[i + 3]! - ring[1]!) -
      (ring[i + 2]! - ring[0]!) * (ring[i + 1]! - ring[1]!);
  return Math.abs(sum) / 2;
}
/** Polygons by their rings' areas: outer first, holes after it, largest polygon first. */
const areas = (polygons: readonly (readonly ArrayLike<number>[])[]): number[][] =>
  polygons.map((rings) => rings.map((ring) => areaOf(Array.from(ring)))).sort((a, b) => b[0]! - a[0]!);

describe("OpenStreetMap XML against GDAL's reading of it", () => {
  it("has the same tagged nodes", () => {
    for (const { id, geometry } of gdal.points)
      expect(
        near(
          byWhere(xml.features, `node ${id}`)!.shape.type === "point"
            ? (byWhere(xml.features, `node ${id}`)!.shape as { coords: Float64Array }).coords
            : [],
          geometry as number[],
        ),
      ).toBe(true);
    expect(xml.features.filter(({ shape }) => shape.type === "point")).toHaveLength(gdal.points.length);
  });

  it("has the same lines, but for the one with a node that is not there", () => {
    const lines = xml.features.filter(({ shape }) => shape.type === "line" || shape.type === "closed");
    for (const { id, geometry } of gdal.lines) {
      const mine = byWhere(lines, `way ${id}`);
      const { coords } = mine!.shape as { coords: Float64Array };
      // GDAL joins what lies on both sides of a missing node; here the line is broken there.
      if (id === "5017") expect(near(coords, flat(geometry).slice(2))).toBe(true);
      else expect(near(coords, flat(geometry))).toBe(true);
    }
    expect(gdal.lines.map(({ id }) => id)).toContain("5017");
    expect(xml.passed.incomplete).toBe(1);
  });

  it("has the same areas: rings joined, holes in their polygon, islands polygons of their own", () => {
    expect(gdal.multipolygons).toHaveLength(6);
    for (const { id, geometry } of gdal.multipolygons) {
      const { shape } = byWhere(xml.features, id.startsWith("way") ? id : `relation ${id}`)!;
      const polygons =
        shape.type === "area" ? shape.polygons : [[(shape as { coords: Float64Array }).coords]];
      const theirs = (geometry as number[][][][]).map((rings) => rings.map((ring) => ring.flat()));
      expect(areas(polygons).flat()).toHaveLength(areas(theirs).flat().length);
      areas(polygons).forEach((rings, i) =>
        rings.forEach((area, k) => expect(area).toBeCloseTo(areas(theirs)[i]![k]!, 12)),
      );
    }
  });

  it("takes an area's tags from its outer way where the relation says nothing", () => {
    expect(byWhere(xml.features, "relation 9002")!.tags).toEqual({ natural: "wetland", wetland: "bog" });
    // The way itself is then no area of its own: its hole would be filled.
    expect(byWhere(xml.features, "way 5012")?.shape.type).toBe("line");
  });

  it("gives an administrative border as lines, each of its ways once", () => {
    expect(byWhere(xml.features, "way 5016")!.tags).toEqual({ boundary: "administrative", admin_level: "8" });
    expect(byWhere(xml.features, "relation 9004")).toBeUndefined();
  });
});

/** In the check value of the last blob, the one place where unpacking does not notice it. */
function withFlippedBit(bytes: Uint8Array): Uint8Array {
  bytes[bytes.length - 1]! ^= 1;
  return bytes;
}

describe("the binary format", () => {
  const plain = (features: readonly RawFeature[]): unknown[] =>
    features.map(({ where, tags, shape }) => [
      where,
      tags,
      shape.type,
      (shape.type === "area" ? shape.polygons.flat() : [shape.coords]).map((coords) =>
        Array.from(coords, (v) => Math.round(v * 1e7)),
      ),
    ]);

  it.each<[string, PbfOptions]>([
    ["dense nodes, packed by zlib", {}],
    ["nodes one by one, not packed", { dense: false, packed: false }],
    ["coarser and finer units", { granularity: 10 }],
  ])("says the same as XML: %s", async (_, options) => {
    const read = await collectOsm(bytesFile("u.osm.pbf", pbf(options)), true);
    expect(plain(read.features)).toEqual(plain(xml.features));
  });

  it("finds nodes that are out of order", async () => {
    const turned = osmPbf({ ...objects, nodes: objects.nodes.toReversed() });
    const read = await collectOsm(bytesFile("u.osm.pbf", turned), true);
    expect(new Set(plain(read.features).map((f) => JSON.stringify(f)))).toEqual(
      new Set(plain(xml.features).map((f) => JSON.stringify(f))),
    );
  });

  it("tells the day of the data", async () => {
    // 2015-07-27T19:43:02Z
    expect((await openOsmPbf(bytesFile("u", pbf({ time: 1438026182 })))).head.day).toBe("2015-07-27");
  });

  it("never makes an area of a hole whose surroundings are missing", async () => {
    const ways = objects.ways.filter(({ id }) => id !== 5007);
    const read = await collectOsm(bytesFile("u.osm.pbf", osmPbf({ ...objects, ways })), true);
    const { shape } = byWhere(read.features, "relation 9001")!;
    // What is left: the island and the second outer ring, 2 × 2 each, in thousandths of a degree.
    expect(
      shape.type === "area"
        ? areas(shape.polygons).map((r) => r.map((a) => Math.round(a * 1e8) / 100))
        : null,
    ).toEqual([[4], [4]]);
    expect(read.passed.incomplete).toBe(2);
  });

  const good = (): Uint8Array => pbf();
  it.each<[string, () => Uint8Array, RegExp]>([
    ["a header over 64 KiB", () => concat([good(), Uint8Array.of(0, 1, 0, 1)]), /blob 4 at byte \d+/],
    [
      "a blob over 32 MiB",
      () => concat([good(), osmFrame("OSMData", new Uint8Array(0), 2 ** 25 + 1)]),
      /33554433 bytes; the format allows 33554432/,
    ],
    [
      "a blob that says it unpacks to more than 32 MiB",
      () => concat([good(), osmBlob("OSMData", new Uint8Array(9), true, 2 ** 25 + 1)]),
      /blob 4/,
    ],
    [
      "a blob that unpacks to more than it says",
      () => concat([good(), osmBlob("OSMData", new Uint8Array(5000), true, 50)]),
      /more than it says.*blob 4/,
    ],
    [
      "a blob that unpacks to less",
      () => concat([good(), osmBlob("OSMData", new Uint8Array(50), true, 5000)]),
      /less than it says/,
    ],
    ["a blob cut short", () => good().subarray(0, -9), /cut short.*u\.osm\.pbf, byte/],
    ["a blob with a flipped bit", () => withFlippedBit(good()), /check value.*blob 3 at byte/],
    ["history", () => pbf({ needs: ["OsmSchema-V0.6", "HistoricalInformation"] }), /HistoricalInformation/],
    ["another packing", () => concat([good(), osmFrame("OSMData", Uint8Array.of(0x3a, 1, 0))]), /Zstandard/],
    [
      "an old packing",
      () => concat([good(), osmFrame("OSMData", Uint8Array.of(0x22, 1, 0))]),
      /LZMA.*blob 4 at byte/,
    ],
  ])("refuses %s", async (_, bytes, message) => {
    const fault = await faultOf(collectOsm(bytesFile("u.osm.pbf", bytes()), true));
    expect(fault.code).toBe("bad-features");
    expect(fault.message).toMatch(message);
    expect(fault.where).toMatch(/^u\.osm\.pbf/);
  });
});

describe.skipIf(!HAS_GDAL)("OpenStreetMap files read by the GDAL that is here (ogr2ogr)", () => {
  it.each(["points", "lines", "multipolygons"] as const)(
    "give the transcribed %s, from XML and from our binary file",
    (layer) => {
      const folder = mkdtempSync(join(tmpdir(), "legwright-osm-"));
      try {
        const path = join(folder, "u.osm.pbf");
        writeFileSync(path, pbf());
        const ids = (from: string): unknown[] =>
          gdalFeatures(from, layer).map(({ properties: p }) => p["osm_id"] ?? `way ${p["osm_way_id"]}`);
        expect(ids(fixturePath("uplands.osm"))).toEqual(gdal[layer].map(({ id }) => id));
        expect(ids(path)).toEqual(gdal[layer].map(({ id }) => id));
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );
});
