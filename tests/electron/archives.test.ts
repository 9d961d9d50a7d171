/**
 * MBTiles archives made into PMTiles. Held to: MBTiles specification 1.3 (rows from the south, gzipped pbf, metadata rows),
 * SQLite itself for writing the fixtures, the `pmtiles` package and @mapbox/vector-tile as readers.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { VectorTile } from "@mapbox/vector-tile";
import { PbfReader } from "pbf";
import { PMTiles, type Source } from "pmtiles";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { Fault } from "../../core/fault.ts";
import { archiveTiles } from "../../core/map/archive-tiles.ts";
import { openArchive } from "../../core/map/archive.ts";
import { openMap } from "../../core/map/open-map.ts";
import { bytesSource } from "../../core/map/source.ts";
import { importArchive } from "../../electron/services/archives/import-archive.ts";
import { openMbtiles } from "../../electron/services/archives/mbtiles-reader.ts";
import { rewriteArchive } from "../../electron/services/archives/rewrite-archive.ts";

const { Database } = createRequire(import.meta.url)(
  "node-sqlite3-wasm",
) as typeof import("node-sqlite3-wasm");
const FLORENCE = fileURLToPath(new URL("../fixtures/open-tiles/florence.pmtiles", import.meta.url));

let folder = "";
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "legwright-archives-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** The PMTiles package's own reading of a file. */
function reader(path: string): PMTiles {
  const bytes = readFileSync(path);
  const source: Source = {
    getKey: () => path,
    getBytes: async (offset, length) => ({
      data: new Uint8Array(bytes.subarray(offset, offset + length)).buffer,
    }),
  };
  return new PMTiles(source);
}

const bytesAt = async (made: PMTiles, z: number, x: number, y: number): Promise<Uint8Array> =>
  new Uint8Array((await made.getZxy(z, x, y))?.data ?? new ArrayBuffer(0));

type Row = readonly [z: number, x: number, row: number, data: Uint8Array | null];

function writeMbtiles(rows: readonly Row[], metadata: Readonly<Record<string, string>>, more = ""): string {
  const path = join(folder, "sheet.mbtiles");
  const database = new Database(path);
  database.exec(`
    CREATE TABLE metadata (name text, value text);
    CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob);
  `);
  for (const [name, value] of Object.entries(metadata))
    database.run("INSERT INTO metadata VALUES (?, ?)", [name, value]);
  for (const row of rows) database.run("INSERT INTO tiles VALUES (?, ?, ?, ?)", [...row]);
  if (more) database.exec(more);
  database.close();
  return path;
}

async function florence(): Promise<{ z: number; x: number; y: number; bytes: Uint8Array }[]> {
  const source = bytesSource("florence", new Uint8Array(readFileSync(FLORENCE)));
  const tiles = [];
  for await (const tile of archiveTiles(source, await openArchive(source))) tiles.push(tile);
  return tiles;
}

const south = (z: number, y: number): number => 2 ** z - 1 - y;
const png = (n: number): Uint8Array =>
  Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 73, 72, 68, 82, 0, 0, 1, 0, n);

async function faultOf(work: Promise<unknown>): Promise<Fault> {
  const thrown: unknown = await work.then(
    () => null,
    (error: unknown) => error,
  );
  expect(thrown).toBeInstanceOf(Fault);
  return thrown as Fault;
}

const ENDLESS =
  "DROP TABLE tiles; CREATE VIEW tiles AS WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n)";

describe("an MBTiles archive", () => {
  it("of vector tiles keeps every tile and what it says of itself", async () => {
    const tiles = await florence();
    const path = writeMbtiles(
      tiles.map(({ z, x, y, bytes }) => [z, x, south(z, y), gzipSync(bytes)]),
      {
        name: "Town",
        format: "pbf",
        bounds: "11.2,43.7,11.3,43.8",
        center: "11.25,43.75,13",
        attribution: "© the mappers",
        json: JSON.stringify({ vector_layers: [{ id: "roads", fields: { "pmap:kind": "String" } }] }),
      },
    );
    const out = await importArchive(path, folder);
    const made = reader(out);
    const header = await made.getHeader();
    expect(header).toMatchObject({
      tileType: 1,
      tileCompression: 2,
      clustered: true,
      minZoom: 13,
      maxZoom: 13,
    });
    expect([header.minLon, header.minLat, header.maxLon, header.maxLat]).toEqual([11.2, 43.7, 11.3, 43.8]);
    expect(await made.getMetadata()).toMatchObject({
      name: "Town",
      format: "pbf",
      attribution: "© the mappers",
      vector_layers: [{ id: "roads", fields: { "pmap:kind": "String" } }],
    });
    expect(tiles).toHaveLength(2);
    for (const { z, x, y, bytes } of tiles) {
      const found = await bytesAt(made, z, x, y);
      expect(Buffer.compare(found, bytes)).toBe(0);
      expect(Object.keys(new VectorTile(new PbfReader(found)).layers)).toContain("roads");
    }
    const map = await openMap(bytesSource("out", new Uint8Array(readFileSync(out))));
    expect(map.info.title).toBe("Town");
    expect(map.info.roles.road?.layer).toBe("roads");
    expect(readdirSync(folder).sort()).toEqual(["sheet.mbtiles", "sheet.pmtiles"]);
  });

  it("of pictures has its rows turned over, and equal pictures once", async () => {
    const rows: Row[] = [
      [0, 0, 0, png(0)],
      [1, 0, 0, png(1)],
      [1, 0, 1, png(2)],
      [1, 1, 1, png(2)],
    ];
    const made = reader(await importArchive(writeMbtiles(rows, { name: "Sheet", format: "png" }), folder));
    expect(await made.getHeader()).toMatchObject({ tileType: 2, numAddressedTiles: 4, numTileContents: 3 });
    // MBTiles 1.3: row 0 is the southern one.
    const last = async (x: number, y: number): Promise<number | undefined> =>
      (await bytesAt(made, 1, x, y)).at(-1);
    expect([await last(0, 1), await last(0, 0), await last(1, 0)]).toEqual([1, 2, 2]);
  });

  it("with its tiles in a view is read all the same", async () => {
    const path = writeMbtiles(
      [],
      { format: "png" },
      `DROP TABLE tiles;
       CREATE TABLE images (id text, data blob);
       CREATE TABLE map (zoom_level integer, tile_column integer, tile_row integer, id text);
       CREATE VIEW tiles AS SELECT zoom_level, tile_column, tile_row, data AS tile_data FROM map JOIN images USING (id);
       INSERT INTO images VALUES ('a', x'${Buffer.from(png(7)).toString("hex")}');
       INSERT INTO map VALUES (2, 1, 1, 'a'), (2, 2, 1, 'a');`,
    );
    const made = reader(await importArchive(path, folder));
    expect(await made.getHeader()).toMatchObject({ numAddressedTiles: 2, numTileContents: 1, minZoom: 2 });
  });

  it("is not converted over a map that is there", async () => {
    const path = writeMbtiles([[0, 0, 0, png(0)]], { format: "png" });
    writeFileSync(join(folder, "sheet.pmtiles"), "mine");
    expect((await faultOf(importArchive(path, folder))).code).toBe("exists");
    expect(readFileSync(join(folder, "sheet.pmtiles"), "utf8")).toBe("mine");
  });

  const one: Row = [0, 0, 0, png(0)];
  const short: Row = [0, 0, 0, gzipSync(new Uint8Array(999)).subarray(0, 25)];
  it.each<[string, readonly Row[], Readonly<Record<string, string>>, string, string]>([
    ["no tiles", [], { format: "png" }, "", "bad-archive"],
    ["no table of tiles", [one], {}, "DROP TABLE tiles;", "bad-archive"],
    ["another format", [one], { format: "shp" }, "", "bad-archive"],
    ["a tile beyond the pyramid", [[1, 2, 0, png(0)]], { format: "png" }, "", "bad-tile"],
    ["a tile twice", [one, one], { format: "png" }, "", "bad-tile"],
    ["a picture among vector tiles", [one], { format: "pbf" }, "", "bad-tile"],
    ["a tile cut short", [short], { format: "pbf" }, "", "bad-tile"],
    ["a word for a zoom", [], {}, "INSERT INTO tiles VALUES ('a', 'b', 'c', x'89');", "bad-tile"],
    [
      "tiles without end that a view makes up",
      [],
      { format: "png" },
      `${ENDLESS} SELECT 20 AS zoom_level, i % 1000000 AS tile_column, i / 1000000 AS tile_row,
       x'89504e470d0a1a0a' || randomblob(100000) AS tile_data FROM n;`,
      "bad-archive",
    ],
  ])("with %s is one fault, and leaves nothing", async (_what, rows, metadata, more, code) => {
    const path = writeMbtiles(rows, metadata, more);
    const before = readdirSync(folder);
    expect((await faultOf(importArchive(path, folder))).code).toBe(code);
    expect(readdirSync(folder)).toEqual(before);
  });

  it("that never gives a tile is given up, and so is one that is cancelled", async () => {
    const path = writeMbtiles(
      [],
      { format: "png" },
      `${ENDLESS} SELECT 1 AS zoom_level, 0 AS tile_column, 0 AS tile_row, x'89' AS tile_data FROM n WHERE i < 0;`,
    );
    const archive = await openMbtiles(path, undefined, 2500);
    const first = faultOf(archive.tiles()[Symbol.asyncIterator]().next());
    expect((await first).code).toBe("bad-archive");
    await archive.close();
    const stop = new AbortController();
    setTimeout(() => stop.abort(), 500);
    expect((await faultOf(importArchive(path, folder, { signal: stop.signal }))).code).toBe("cancelled");
    expect(readdirSync(folder)).toEqual(["sheet.mbtiles"]);
  });

  it("damaged anywhere gives a map or a fault, never anything else", async () => {
    const rows = Array.from({ length: 64 }, (_, i): Row => [3, i % 8, i >> 3, png(i)]);
    const path = writeMbtiles(rows, { format: "png" });
    const whole = readFileSync(path);
    let faults = 0;
    for (let n = 0; n < 9; n++) {
      const bad = Buffer.from(whole);
      for (let k = 0; k < 20; k++)
        bad[100 + ((n * 7919 + k * 104_729) % (bad.length - 100))] = (n * 31 + k * 17) & 255;
      writeFileSync(path, n % 3 === 0 ? bad.subarray(0, (bad.length * (n + 1)) / 14) : bad);
      const result: unknown = await importArchive(path, folder, { replace: true }).catch(
        (error: unknown) => error,
      );
      if (typeof result === "string") continue;
      expect(result).toBeInstanceOf(Fault);
      expect((result as Fault).code).toMatch(/^bad-/);
      faults++;
    }
    expect(faults).toBeGreaterThan(2);
    expect(readdirSync(folder).filter((name) => name.startsWith("."))).toEqual([]);
  });
});

describe("a PMTiles archive written anew", () => {
  it("has the same tiles, gzipped and clustered, and says what its layers hold", async () => {
    const out = join(folder, "out.pmtiles");
    const roles = { road: { layer: "roads", name: "name" } };
    await rewriteArchive(FLORENCE, out, { roles, title: "Town" });
    const [before, after] = [reader(FLORENCE), reader(out)];
    expect(await after.getHeader()).toMatchObject({ clustered: true, tileCompression: 2, tileType: 1 });
    for (const { z, x, y } of await florence())
      expect(Buffer.compare(await bytesAt(after, z, x, y), await bytesAt(before, z, x, y))).toBe(0);
    const { info } = await openMap(bytesSource("out", new Uint8Array(readFileSync(out))));
    expect(info).toMatchObject({ title: "Town", rolesFrom: "metadata", roles });
  });

  it("is refused roles that cannot be, and its own name", async () => {
    const out = join(folder, "out.pmtiles");
    const roles = { road: { layer: "nowhere" } };
    expect((await faultOf(rewriteArchive(FLORENCE, out, { roles }))).what).toContain("nowhere");
    expect((await faultOf(rewriteArchive(FLORENCE, FLORENCE, {}))).code).toBe("bad-argument");
    expect(readdirSync(folder)).toEqual([]);
  });
});
