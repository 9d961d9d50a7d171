/** Fixtures as files, readers run to the end, and a writer of OpenStreetMap's binary format for tests. */
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { zlibSync } from "fflate";
import { PbfWriter } from "pbf";
import { Fault } from "../../../../core/fault.ts";
import { bytesFile, type FeatureFile, noTick } from "../../../../core/files/feature-file.ts";
import type { OsmMember } from "../../../../core/mapmaking/features-in/osm-objects.ts";
import { readOsm } from "../../../../core/mapmaking/features-in/osm.ts";
import {
  type Passed,
  nothingPassed,
  type RawFeature,
  type Tags,
} from "../../../../core/mapmaking/features-in/raw-feature.ts";
import {
  type FeaturesReport,
  type FeaturesRequest,
  readFeatures,
} from "../../../../core/mapmaking/features-in/read-features.ts";
import { memorySpool } from "../../../../core/mapmaking/spool.ts";
import type { TileFeature } from "../../../../core/mapmaking/tile-feature.ts";

export const fixturePath = (name: string): string =>
  new URL(`../../../fixtures/features-in/${name}`, import.meta.url).pathname;
export const fixtureBytes = (name: string): Uint8Array => new Uint8Array(readFileSync(fixturePath(name)));
export const fixture = (name: string): FeatureFile => bytesFile(name, fixtureBytes(name));
export const textFile = (name: string, text: string): FeatureFile =>
  bytesFile(name, new TextEncoder().encode(text));
export const fixtureJson = (name: string): unknown => JSON.parse(readFileSync(fixturePath(name), "utf8"));

export interface Collected {
  readonly features: RawFeature[];
  readonly passed: Passed;
}
export async function collect(
  read: (emit: (feature: RawFeature) => void, passed: Passed) => Promise<unknown>,
): Promise<Collected> {
  const features: RawFeature[] = [];
  const passed = nothingPassed();
  await read((feature) => features.push(feature), passed);
  return { features, passed };
}
export const collectOsm = (file: FeatureFile, binary: boolean): Promise<Collected> =>
  collect((emit, passed) =>
    readOsm(file, binary, emit, passed, { meets: () => true, openSpool: memorySpool }, noTick),
  );

export const EVERYWHERE: Omit<FeaturesRequest, "files"> = {
  bounds: [-180, -85, 180, 85],
  zooms: { min: 8, max: 14 },
  unit: "m",
};
export async function readAll(
  files: readonly FeatureFile[],
  more: Partial<FeaturesRequest> = {},
): Promise<{ readonly features: TileFeature[]; readonly report: FeaturesReport }> {
  const features: TileFeature[] = [];
  const report = await readFeatures({ ...EVERYWHERE, files, ...more }, (one) => void features.push(one));
  return { features, report };
}

/** The fault a promise fails with. */
export async function faultOf(work: Promise<unknown>): Promise<Fault> {
  const thrown = await work.then(
    () => null,
    (error: unknown) => error,
  );
  if (!(thrown instanceof Fault)) throw new Error(`no fault, but ${String(thrown)}`);
  return thrown;
}

export const HAS_GDAL = spawnSync("ogr2ogr", ["--version"]).status === 0;
/** Features of a layer as the GDAL that is here reads them. */
export const gdalFeatures = (
  path: string,
  ...args: readonly string[]
): { properties: Tags; geometry: { type: string; coordinates: unknown } }[] =>
  execFileSync("ogr2ogr", ["-f", "GeoJSONSeq", "/vsistdout/", path, ...args], {
    encoding: "utf8",
    stdio: ["ignore", "pipe", "ignore"],
  })
    .split("\n")
    .map((line) => line.replace("\u001e", "").trim())
    .filter((line) => line !== "")
    .map(
      (line) => JSON.parse(line) as { properties: Tags; geometry: { type: string; coordinates: unknown } },
    );

/** Objects of an OpenStreetMap file. */
export interface OsmObjects {
  readonly nodes: {
    readonly id: number;
    readonly lon: number;
    readonly lat: number;
    readonly tags: Tags | null;
  }[];
  readonly ways: { readonly id: number; readonly refs: readonly number[]; readonly tags: Tags | null }[];
  readonly relations: {
    readonly id: number;
    readonly members: readonly OsmMember[];
    readonly tags: Tags | null;
  }[];
}

export interface PbfOptions {
  readonly dense?: boolean;
  readonly packed?: boolean;
  readonly granularity?: number;
  readonly needs?: readonly string[];
  /** Seconds since 1970. */
  readonly time?: number;
}

/** Written from the format's description (osmformat.proto), apart from the reader. */
export function osmPbf(objects: OsmObjects, options: PbfOptions = {}): Uint8Array {
  const {
    dense = true,
    packed = true,
    granularity = 100,
    needs = ["OsmSchema-V0.6", "DenseNodes"],
    time,
  } = options;
  const head = new PbfWriter();
  for (const need of needs) head.writeStringField(4, need);
  if (time !== undefined) head.writeVarintField(32, time);
  const strings = [""];
  const index = (text: string): number => {
    const known = strings.indexOf(text);
    return known >= 0 ? known : strings.push(text) - 1;
  };
  const keys = (tags: Tags | null): number[] => Object.keys(tags ?? {}).map(index);
  const values = (tags: Tags | null): number[] => Object.values(tags ?? {}).map((v) => index(String(v)));
  const differences = (all: readonly number[]): number[] => all.map((v, i) => v - (i > 0 ? all[i - 1]! : 0));
  const units = (degrees: number): number => Math.round((degrees * 1e9) / granularity);
  const { nodes, ways, relations } = objects;

  const group = (write: (pbf: PbfWriter) => void): Uint8Array => {
    const pbf = new PbfWriter();
    write(pbf);
    return pbf.finish();
  };
  const groups = [
    group((pbf) => {
      if (dense)
        pbf.writeBytesField(
          2,
          group((d) => {
            d.writePackedSVarint(1, differences(nodes.map(({ id }) => id)));
            d.writePackedSVarint(8, differences(nodes.map(({ lat }) => units(lat))));
            d.writePackedSVarint(9, differences(nodes.map(({ lon }) => units(lon))));
            const all = nodes.flatMap(({ tags }) => [
              ...keys(tags).flatMap((k, i) => [k, values(tags)[i]!]),
              0,
            ]);
            if (all.some((v) => v !== 0)) d.writePackedVarint(10, all);
          }),
        );
      else
        for (const { id, lon, lat, tags } of nodes)
          pbf.writeBytesField(
            1,
            group((n) => {
              n.writeSVarintField(1, id);
              n.writePackedVarint(2, keys(tags));
              n.writePackedVarint(3, values(tags));
              n.writeSVarintField(8, units(lat));
              n.writeSVarintField(9, units(lon));
            }),
          );
    }),
    group((pbf) => {
      for (const { id, refs, tags } of ways)
        pbf.writeBytesField(
          3,
          group((w) => {
            w.writeVarintField(1, id);
            w.writePackedVarint(2, keys(tags));
            w.writePackedVarint(3, values(tags));
            w.writePackedSVarint(8, differences(refs));
          }),
        );
    }),
    group((pbf) => {
      for (const { id, members, tags } of relations)
        pbf.writeBytesField(
          4,
          group((r) => {
            r.writeVarintField(1, id);
            r.writePackedVarint(2, keys(tags));
            r.writePackedVarint(3, values(tags));
            r.writePackedVarint(
              8,
              members.map(({ role }) => index(role)),
            );
            r.writePackedSVarint(9, differences(members.map((m) => m.id)));
            r.writePackedVarint(
              10,
              members.map(({ type }) => ["node", "way", "relation"].indexOf(type)),
            );
          }),
        );
    }),
  ];
  // One block a group, as extracts have them.
  const blocks = groups.map((bytes) =>
    group((pbf) => {
      pbf.writeBytesField(
        1,
        group((table) => strings.forEach((text) => table.writeBytesField(1, new TextEncoder().encode(text)))),
      );
      pbf.writeBytesField(2, bytes);
      if (granularity !== 100) pbf.writeVarintField(17, granularity);
    }),
  );
  return concat([
    osmBlob("OSMHeader", head.finish(), packed),
    ...blocks.map((block) => osmBlob("OSMData", block, packed)),
  ]);
}

/** A blob with its header; the plain bytes may be said to be of another size than they are. */
export function osmBlob(
  type: string,
  plain: Uint8Array,
  packed = true,
  saidBytes = plain.length,
): Uint8Array {
  const blob = new PbfWriter();
  if (packed) {
    blob.writeVarintField(2, saidBytes);
    blob.writeBytesField(3, zlibSync(plain));
  } else blob.writeBytesField(1, plain);
  return osmFrame(type, blob.finish());
}

export function osmFrame(type: string, blob: Uint8Array, saidBytes = blob.length): Uint8Array {
  const header = new PbfWriter();
  header.writeStringField(1, type);
  header.writeVarintField(3, saidBytes);
  const head = header.finish();
  const size = new Uint8Array(4);
  new DataView(size.buffer).setUint32(0, head.length);
  return concat([size, head, blob]);
}

export function concat(parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    out.set(part, at);
    at += part.length;
  }
  return out;
}
