/** Files damaged in some thousand ways end in features or in one Fault, soon. */
import { zipSync } from "fflate";
import fc from "fast-check";
import { PbfWriter } from "pbf";
import { beforeAll, describe, expect, it } from "vitest";
import { Fault } from "../../../../core/fault.ts";
import { bytesFile, type FeatureFile, noTick } from "../../../../core/files/feature-file.ts";
import { readOsmXml } from "../../../../core/mapmaking/features-in/osm-xml.ts";
import { unzip } from "../../../../core/files/zip.ts";
import {
  concat,
  faultOf,
  fixture,
  fixtureBytes,
  osmBlob,
  type OsmObjects,
  osmPbf,
  readAll,
} from "./support.ts";

/** One reading of a whole file of these takes a few milliseconds. */
const MOST_MS = 5000;
const SEED = 20261125;

const park = new Map<string, Uint8Array>();
const objects: OsmObjects = { nodes: [], ways: [], relations: [] };
beforeAll(async () => {
  for (const one of await unzip(fixture("park.zip"), () => true))
    park.set(one.key.split("/").at(-1)!, await one.read(0, one.sizeBytes));
  await readOsmXml(
    fixture("uplands.osm"),
    {
      node: (id, lon, lat, tags) => void objects.nodes.push({ id, lon, lat, tags }),
      way: (id, refs, tags) => void objects.ways.push({ id, refs: [...refs], tags }),
      relation: (id, members, tags) => void objects.relations.push({ id, members, tags }),
    },
    noTick,
  );
});

type Damage = readonly (readonly [place: number, value: number])[];
const bytesChanged = fc.array(fc.tuple(fc.nat(), fc.integer({ min: 0, max: 255 })), {
  minLength: 1,
  maxLength: 6,
});
const cut = fc.option(fc.nat(), { freq: 6 });

function damaged(bytes: Uint8Array, changes: Damage, at: number | null): Uint8Array {
  const out = Uint8Array.from(bytes);
  for (const [place, value] of changes) out[place % out.length] = value;
  return at === null ? out : out.subarray(0, at % out.length);
}

/** Time of the processor, so that a busy machine does not count. */
function workedMs(begun: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(begun);
  return (user + system) / 1000;
}

async function survives(file: FeatureFile): Promise<void> {
  const begun = process.cpuUsage();
  try {
    const { features } = await readAll([file]);
    for (const { parts } of features)
      for (const part of parts)
        for (const v of part) if (v < 0 || v > 4096 * 2 ** 14) throw new Error(`off the map: ${v}`);
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    expect(["bad-features", "no-crs"]).toContain(error.code);
    expect(error.where).toMatch(new RegExp(file.key.split(".")[0]!));
  }
  expect(workedMs(begun)).toBeLessThan(MOST_MS);
}

const runs = (numRuns: number): { seed: number; numRuns: number } => ({ seed: SEED, numRuns });
const each = (numRuns: number, make: () => [name: string, bytes: Uint8Array]): Promise<void> => {
  const [name, bytes] = make();
  return fc.assert(
    fc.asyncProperty(bytesChanged, cut, (changes, at) =>
      survives(bytesFile(name, damaged(bytes, changes, at))),
    ),
    runs(numRuns),
  );
};

describe("damaged files", () => {
  it("2000 binary OpenStreetMap files, packed and plain", async () => {
    await each(800, () => ["uplands.osm.pbf", osmPbf(objects)]);
    await each(1200, () => ["uplands.osm.pbf", osmPbf(objects, { packed: false, dense: false })]);
  }, 120_000);

  it("1000 blocks of plain dense nodes, ways and relations", async () => {
    await each(1000, () => ["uplands.osm.pbf", osmPbf(objects, { packed: false })]);
  }, 120_000);

  it(
    "600 OpenStreetMap XML files",
    () => each(600, () => ["uplands.osm", fixtureBytes("uplands.osm")]),
    120_000,
  );
  it("600 GPX files", () => each(600, () => ["walk.gpx", fixtureBytes("walk.gpx")]), 120_000);
  it("600 KML files", () => each(600, () => ["walk.kml", fixtureBytes("walk.kml")]), 120_000);

  it("1500 shapefiles with their tables and systems", async () => {
    const ofEnding = fc.constantFrom("shp", "shp", "dbf", "dbf", "prj", "cpg");
    await fc.assert(
      fc.asyncProperty(
        bytesChanged,
        cut,
        ofEnding,
        fc.constantFrom("paths", "lakes"),
        (changes, at, ending, stem) => {
          const part = (e: string): FeatureFile | null => {
            const bytes = park.get(`${stem}.${e}`);
            return bytes
              ? bytesFile(`${stem}.${e}`, e === ending ? damaged(bytes, changes, at) : bytes, part)
              : null;
          };
          return survives(part("shp")!);
        },
      ),
      runs(1500),
    );
  }, 120_000);

  it("800 zips", () => each(800, () => ["park.zip", fixtureBytes("park.zip")]), 120_000);

  it("600 GeoJSON files", () => {
    const text = JSON.stringify({
      type: "FeatureCollection",
      features: [
        { type: "Feature", properties: { highway: "path", name: "a" }, geometry: { type: "LineString", coordinates: [[10, 45], [10.1, 45.2]] } },
        { type: "Feature", properties: { natural: "water" }, geometry: { type: "Polygon", coordinates: [[[10, 45], [10.1, 45], [10.1, 45.1], [10, 45]]] } },
      ],
    }); // prettier-ignore
    return each(600, () => ["f.geojson", new TextEncoder().encode(text)]);
  }, 120_000);
});

describe("bombs", () => {
  it("a blob of zeros that would unpack beyond 32 MiB stops there", async () => {
    const bomb = osmBlob("OSMData", new Uint8Array(48 * 2 ** 20), true, 2 ** 25);
    await survives(
      bytesFile("uplands.osm.pbf", concat([osmPbf({ nodes: [], ways: [], relations: [] }), bomb])),
    );
  }, 60_000);

  it("blobs of millions of nodes in a few kilobytes are refused before they fill the memory", async () => {
    const nodes = new PbfWriter();
    for (const field of [1, 8, 9]) nodes.writeBytesField(field, new Uint8Array(600_000));
    const group = new PbfWriter();
    group.writeBytesField(2, nodes.finish());
    const block = new PbfWriter();
    block.writeBytesField(2, group.finish());
    const blob = osmBlob("OSMData", block.finish());
    const file = concat([osmPbf({ nodes: [], ways: [], relations: [] }), blob, blob, blob, blob]);
    expect(file.length).toBeLessThan(20_000);
    const fault = await faultOf(readAll([bytesFile("uplands.osm.pbf", file)]));
    expect(fault.message).toMatch(/more nodes than bytes.*uplands/);
  });

  // PKWARE APPNOTE 6.3, §4.4.1.4: where a number needs 64 bits, its field of 32 holds all ones.
  it.each([
    ["whose list lies beyond 4 GB", 5, 16],
    ["with a file beyond 4 GB", 1, 24],
  ])("a zip of the 64-bit form, %s, is refused by one fault that names it", async (_what, record, field) => {
    const zip = zipSync({ "a.geojson": new Uint8Array(100) });
    const at = zip.findIndex(
      (_, i) => zip[i] === 0x50 && zip[i + 1] === 0x4b && zip[i + 2] === record && zip[i + 3] === record + 1,
    );
    new DataView(zip.buffer, zip.byteOffset).setUint32(at + field, 0xffffffff, true);
    const fault = await faultOf(readAll([bytesFile("park.zip", zip)]));
    expect(fault).toMatchObject({ code: "bad-features", where: "park.zip" });
    expect(fault.message).toMatch(/GB|MB/);
  });

  it("a zip of zeros that would unpack beyond 512 MiB is not unpacked", async () => {
    const zip = zipSync({ "a.geojson": new Uint8Array(2 ** 20) });
    // Its list says 1 GB; nothing is allocated for it.
    const at = zip.findIndex(
      (_, i) => zip[i] === 0x50 && zip[i + 1] === 0x4b && zip[i + 2] === 1 && zip[i + 3] === 2,
    );
    new DataView(zip.buffer, zip.byteOffset).setUint32(at + 24, 2 ** 30, true);
    const begun = process.cpuUsage();
    await survives(bytesFile("a.zip", zip));
    expect(workedMs(begun)).toBeLessThan(1000);
  });
});
