import { describe, expect, it } from "vitest";
import { bytesFile, type FeatureFile, noTick } from "../../../../core/files/feature-file.ts";
import { readShapefile } from "../../../../core/mapmaking/features-in/shapefile.ts";
import { crsNames } from "../../../../core/mapmaking/features-in/to-wgs84.ts";
import { unzip } from "../../../../core/files/zip.ts";
import {
  type Collected,
  collect,
  concat,
  faultOf,
  fixture,
  fixtureBytes,
  fixtureJson,
  fixturePath,
  gdalFeatures,
  HAS_GDAL,
  readAll,
} from "./support.ts";

interface Told {
  readonly properties: Record<string, unknown>;
  readonly geometry: { readonly type: string; readonly coordinates: unknown } | null;
}
/** What GDAL 3.6.2 reads of the same files, in WGS 84; how it was transcribed stands in the folder of fixtures. */
const gdal = fixtureJson("park-gdal.json") as Record<"paths" | "lakes" | "heights", Told[]>;

const files = async (
  change: (name: string, bytes: Uint8Array) => Uint8Array | null = (_, b) => b,
): Promise<Map<string, FeatureFile>> => {
  const found = new Map<string, FeatureFile>();
  for (const one of await unzip(fixture("park.zip"), () => true)) {
    const name = one.key.split("/").at(-1)!;
    const bytes = change(name, Uint8Array.from(await one.read(0, one.sizeBytes)));
    if (bytes)
      found.set(
        name,
        bytesFile(name, bytes, (ending) => found.get(name.replace(/[^.]*$/, ending)) ?? null),
      );
  }
  return found;
};
const read = async (
  name: string,
  change?: (name: string, bytes: Uint8Array) => Uint8Array | null,
): Promise<Collected> => {
  const all = await files(change);
  return collect((emit, passed) => readShapefile(all.get(name)!, null, crsNames(), emit, passed, noTick));
};
const flat = (coordinates: unknown): number[] => (coordinates as unknown[]).flat(Infinity) as number[];
/** 1e-8° is a millimetre. */
const expectNear = (coords: ArrayLike<number>, theirs: readonly number[]): void => {
  expect(coords).toHaveLength(theirs.length);
  theirs.forEach((v, i) => expect(Math.abs(coords[i]! - v)).toBeLessThan(1e-8));
};

describe("a shapefile against GDAL's reading of it", () => {
  it("has the same lines, brought from New Zealand's grid to WGS 84", async () => {
    const { features, passed } = await read("paths.shp");
    const [one, two] = gdal.paths;
    expect(features).toHaveLength(3);
    expectNear((features[0]!.shape as { coords: Float64Array }).coords, flat(one!.geometry!.coordinates));
    const parts = two!.geometry!.coordinates as number[][][];
    expectNear((features[1]!.shape as { coords: Float64Array }).coords, flat(parts[0]));
    expectNear((features[2]!.shape as { coords: Float64Array }).coords, flat(parts[1]));
    // Of four records GDAL gives three as well: one is deleted. The third has no shape.
    expect(gdal.paths).toHaveLength(3);
    expect(passed.noShape).toBe(1);
    expect(JSON.stringify(features)).not.toContain("deleted");
  });

  it("has the same attributes, in the encoding the .cpg names", async () => {
    const { features } = await read("paths.shp");
    expect(features[0]!.tags).toEqual({
      highway: "path",
      name: gdal.paths[0]!.properties["NAME"],
      width: 1.5,
      open: 1,
    });
    expect(features[0]!.tags["name"]).toBe("Höhenweg Süd");
  });

  it("has the same areas: the hole in its polygon, the island one of its own", async () => {
    const { features } = await read("lakes.shp");
    const { shape } = features[0]!;
    const polygons = shape.type === "area" ? shape.polygons : [];
    const theirs = gdal.lakes[0]!.geometry!.coordinates as number[][][][];
    expect(polygons.map((rings) => rings.length)).toEqual(theirs.map((rings) => rings.length));
    const spread = (all: readonly (readonly ArrayLike<number>[])[]): number[] =>
      all.flatMap((rings) => rings.flatMap((ring) => Array.from(ring))).sort((a, b) => a - b);
    expectNear(spread(polygons), spread(theirs.map((rings) => rings.map((ring) => ring.flat()))));
  });

  it("leaves heights of points aside and reads their attributes", async () => {
    const { features } = await read("heights.shp");
    expectNear(
      (features[0]!.shape as { coords: Float64Array }).coords,
      (gdal.heights[0]!.geometry!.coordinates as number[]).slice(0, 2),
    );
    expect(features[0]!.tags).toEqual({ elev_ft: 4049 });
  });
});

describe("text of a shapefile", () => {
  const without = (name: string, bytes: Uint8Array): Uint8Array | null =>
    name.endsWith(".cpg") ? null : bytes;
  const driver =
    (value: number) =>
    (name: string, bytes: Uint8Array): Uint8Array | null => {
      if (name === "paths.dbf") bytes[29] = value;
      return without(name, bytes);
    };
  // Windows-1252 F6 and FC read by other tables: Python's codecs cp850, cp437 and windows-1251.
  it.each<[string, number, string]>([
    ["windows-1252", 0x57, "Höhenweg Süd"],
    ["code page 850", 0x02, "H÷henweg S³d"],
    ["code page 437", 0x01, "H÷henweg Sⁿd"],
    ["windows-1251", 0xc9, "Hцhenweg Sьd"],
    ["nothing said", 0, "Höhenweg Süd"],
  ])("is read by the language driver where there is no .cpg: %s", async (_, value, name) => {
    expect((await read("paths.shp", driver(value))).features[0]!.tags["name"]).toBe(name);
  });
});

describe("a shapefile that is not right", () => {
  const set =
    (of: string, at: number, ...values: number[]) =>
    (name: string, bytes: Uint8Array): Uint8Array => {
      if (name === of) bytes.set(values, at);
      return bytes;
    };
  it.each<[string, string, (name: string, bytes: Uint8Array) => Uint8Array | null, RegExp]>([
    [
      "no .prj",
      "no-crs",
      (name, bytes) => (name.endsWith(".prj") ? null : bytes),
      /no \.prj.*--features-crs/,
    ],
    [
      "a .prj of another system",
      "bad-features",
      (name, bytes) =>
        name === "paths.prj"
          ? new TextEncoder().encode(
              'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137,298.257223563]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]',
            )
          : bytes,
      /no place on earth.*record 1.*\.prj/,
    ],
    [
      "a .prj that is none",
      "no-crs",
      (name, bytes) => (name === "paths.prj" ? new TextEncoder().encode("here and there") : bytes),
      /here and there.*\.prj of paths\.shp/,
    ],
    ["a record of absurd length", "bad-features", set("paths.shp", 104, 0x7f, 0, 0, 0), /record 1, byte 100/],
    [
      "more positions than bytes",
      "bad-features",
      set("paths.shp", 108 + 40, 0xff, 0xff, 0xff, 0xff),
      /record 1/,
    ],
    ["parts out of order", "bad-features", set("paths.shp", 108 + 44, 9, 0, 0, 0), /record 1/],
    [
      "a table of absurd size",
      "bad-features",
      set("paths.dbf", 4, 0xff, 0xff, 0xff, 0x7f),
      /paths\.dbf, byte 4/,
    ],
    ["fields wider than a record", "bad-features", set("paths.dbf", 32 + 16, 255), /paths\.dbf, byte 32/],
    [
      "an encoding nobody knows",
      "bad-features",
      (name, bytes) => (name === "paths.cpg" ? new TextEncoder().encode("KLINGON-8") : bytes),
      /KLINGON-8/,
    ],
    [
      "a short file",
      "bad-features",
      (name, bytes) => (name === "paths.shp" ? bytes.subarray(0, -5) : bytes),
      /cut short within record 4/,
    ],
  ])("is one fault that names the place: %s", async (_, code, change, message) => {
    const fault = await faultOf(read("paths.shp", change));
    expect(fault.code).toBe(code);
    expect(fault.message).toMatch(message);
  });
});

describe("a zip", () => {
  it("is read as what it holds", async () => {
    const { report } = await readAll([fixture("park.zip")]);
    expect(report.files.map(({ name, format, features }) => [name, format, features])).toEqual([
      ["park.zip/park/heights.shp", "shapefile", 1],
      ["park.zip/park/lakes.shp", "shapefile", 1],
      ["park.zip/park/paths.shp", "shapefile", 3],
    ]);
  });

  const bytes = (): Uint8Array => Uint8Array.from(fixtureBytes("park.zip"));
  const entry = (of: Uint8Array): number => {
    for (let i = 0; i < of.length; i++)
      if (of[i] === 0x50 && of[i + 1] === 0x4b && of[i + 2] === 1 && of[i + 3] === 2) return i;
    throw new Error("no entry");
  };
  const changed = (at: number, ...values: number[]): Uint8Array => {
    const all = bytes();
    all.set(values, entry(all) + at);
    return all;
  };
  it.each<[string, () => Uint8Array, RegExp]>([
    [
      "says it unpacks to 4 GB",
      () => changed(24, 0xf0, 0xff, 0xff, 0xff),
      /would unpack to 4096 MB.*park\.zip/,
    ],
    [
      "says it unpacks to more than deflate can give",
      () => changed(24, 0, 0, 0, 0x10),
      /larger than it can be/,
    ],
    ["unpacks to more than it says", () => changed(24, 5, 0, 0, 0), /more than it says/],
    ["has another check value", () => changed(16, 1, 2, 3, 4), /check value.*park\.zip\/park\/heights/],
    ["is encrypted", () => changed(8, 1, 0), /encrypted/],
    ["has an entry beyond its end", () => changed(42, 0xff, 0xff, 0xff, 0x0f), /cut short/],
    ["is cut short", () => bytes().subarray(0, 2000), /list of files is missing/],
    [
      "holds no features",
      () => concat([Uint8Array.of(0x50, 0x4b, 5, 6), new Uint8Array(18)]),
      /no file of features/,
    ],
  ])("is one fault when it %s", async (_, made, message) => {
    const fault = await faultOf(readAll([bytesFile("park.zip", made())]));
    expect(fault.code).toBe("bad-features");
    expect(fault.message).toMatch(message);
  });
});

describe.skipIf(!HAS_GDAL)("shapefiles read by the GDAL that is here (ogr2ogr)", () => {
  it.each(["paths", "lakes", "heights"] as const)("give the transcribed %s", (layer) => {
    const path = `/vsizip/${fixturePath("park.zip")}/park/${layer}.shp`;
    const read = gdalFeatures(path, "-t_srs", "EPSG:4326", "-lco", "COORDINATE_PRECISION=9");
    expect(read.map(({ properties, geometry }) => ({ properties, geometry }))).toEqual(gdal[layer]);
  });
});
