/** Archives of tiles, the tiles in them, and the pictures of heights. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { archiveFacts } from "../../core/map/archive-facts.ts";
import { openMap } from "../../core/map/open-map.ts";
import { openSheet, readInfo } from "../../core/map/read-info.ts";
import { bytesSource } from "../../core/map/source.ts";
import { crc32 } from "../../core/map/unpack.ts";
import { encodePng } from "../../core/mapmaking/png-rgb.ts";
import { decodePicture } from "../../core/terrain/height-pictures.ts";
import { openTerrain } from "../../core/terrain/terrain-tiles.ts";
import { convertMbtiles } from "../../electron/services/archives/import-archive.ts";
import { GROUND_DECODERS } from "../../electron/services/ground-decoders.ts";
import type { Parser } from "./parsers.ts";
import { loopingArchive, plainArchive, type Seed, seedsOf, TILE_BOX, VECTOR_TILE } from "./seeds.ts";

async function vectors({ name, bytes }: Seed): Promise<void> {
  const source = bytesSource(name, bytes);
  const map = await openMap(source, GROUND_DECODERS);
  const [west, south, east, north] = map.info.bounds;
  const [lon, lat] = [(west + east) / 2, (south + north) / 2];
  const own = /plain|loop/.test(name);
  const box = own ? TILE_BOX : ([lon - 0.01, lat - 0.01, lon + 0.01, lat + 0.01] as const);
  await map.prepare(box);
  for (const { coords, elevationM } of map.lines(box)) {
    if (!coords.every(Number.isFinite)) throw new Error("a line without a place");
    if (Math.abs(Number.isNaN(elevationM) ? 0 : elevationM) > 12_000) throw new Error(`a contour at ${elevationM} m`);
  }
  for (const { rings } of map.areas(box))
    for (const ring of rings) if (!ring.every(Number.isFinite)) throw new Error("an area without a place");
  for (const { lonLat } of map.points(box)) if (!lonLat.every(Number.isFinite)) throw new Error("a point without a place");
  map.blind(box);
} // prettier-ignore

async function terrain({ name, bytes }: Seed): Promise<void> {
  const source = bytesSource(name, bytes);
  const model = await openTerrain(source, GROUND_DECODERS);
  const { bounds } = await readInfo(source, GROUND_DECODERS);
  const [lon, lat] = [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2];
  await model.prepare([lon, lat, lon + 0.001, lat + 0.001]);
  const height = model.at([lon, lat]);
  if (Math.abs(height) > 12_000) throw new Error(`a height of ${height} m`);
}

async function facts({ name, bytes }: Seed): Promise<void> {
  const refused: unknown = await openSheet(bytesSource(name, bytes), GROUND_DECODERS).catch(
    (e: unknown) => e,
  );
  if (refused instanceof Error && !(refused instanceof Fault)) throw refused;
  await archiveFacts(bytesSource(name, bytes), GROUND_DECODERS);
}

/** A PNG whose check values are right again, so that what is damaged inside is read. Third edition, clause 5.3. */
function checked(bytes: Uint8Array): Uint8Array {
  const out = Uint8Array.from(bytes);
  const view = new DataView(out.buffer);
  for (let at = 8; at + 12 <= out.length;) {
    const length = view.getUint32(at);
    if (at + 12 + length > out.length) break;
    view.setUint32(at + 8 + length, crc32(out.subarray(at + 4, at + 8 + length)));
    at += 12 + length;
  }
  return out;
}

const { Database } = createRequire(import.meta.url)(
  "node-sqlite3-wasm",
) as typeof import("node-sqlite3-wasm");

function mbtiles(): Seed {
  const folder = mkdtempSync(join(tmpdir(), "legwright-hostile-"));
  const path = join(folder, "sheet.mbtiles");
  try {
    const database = new Database(path);
    database.exec(
      "CREATE TABLE metadata (name text, value text); CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob);",
    );
    for (const row of [["name", "a"], ["format", "pbf"], ["bounds", "10,45,11,46"]]) database.run("INSERT INTO metadata VALUES (?, ?)", row); // prettier-ignore
    for (let x = 0; x < 4; x++) database.run("INSERT INTO tiles VALUES (?, ?, ?, ?)", [3, x, 2, VECTOR_TILE]);
    database.close();
    return { name: "sheet.mbtiles", bytes: fileBytes(path) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
const fileBytes = (path: string): Uint8Array =>
  new Uint8Array(createRequire(import.meta.url)("node:fs").readFileSync(path) as Buffer);

async function converted({ name, bytes }: Seed): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "legwright-hostile-"));
  try {
    writeFileSync(join(folder, name), bytes);
    await convertMbtiles(join(folder, name), join(folder, "out.pmtiles"));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const plain = (): Seed[] => [
  { name: "plain.pmtiles", bytes: plainArchive(false) },
  { name: "plain-leaves.pmtiles", bytes: plainArchive(true) },
  { name: "loop.pmtiles", bytes: loopingArchive() },
];
const slope = Uint8Array.from({ length: 64 * 64 * 3 }, (_, i) => [130, i % 7, i % 251][i % 3]!);

export const ARCHIVE_PARSERS: readonly Parser[] = [
  { name: "PMTiles of vectors", stuff: "binary", weight: 18, ofFile: true, seeds: () => [...plain(), ...plain(), ...seedsOf(/(?<!terrain|webp-512)\.pmtiles$/)], read: vectors },
  { name: "facts of an archive", stuff: "binary", weight: 5, ofFile: true, seeds: () => [...plain(), ...seedsOf(/(florence|fixture_\d|empty|invalid)\.pmtiles$/)], read: facts },
  { name: "PMTiles of heights", stuff: "binary", weight: 3, ofFile: true, seeds: () => seedsOf(/(terrain|webp-512)\.pmtiles$/), read: terrain },
  {
    name: "PNG of heights",
    stuff: "binary",
    weight: 7,
    ofFile: false,
    seeds: () => [{ name: "slope.png", bytes: encodePng(slope, 64, 64) }, ...seedsOf(/map\/.*\.png$/)],
    read: async ({ bytes }) => void (await decodePicture(checked(bytes), GROUND_DECODERS)),
  },
  {
    name: "WebP of heights",
    stuff: "binary",
    weight: 6,
    ofFile: false,
    seeds: () => seedsOf(/map\/.*\.webp$/),
    read: async ({ bytes }) => void (await decodePicture(bytes, GROUND_DECODERS)),
  },
  { name: "MBTiles", stuff: "binary", weight: 0.5, ofFile: true, seeds: () => [mbtiles()], read: converted },
]; // prettier-ignore
