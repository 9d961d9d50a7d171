/** A thread that reads one MBTiles archive: what SQLite is made to do by a hostile file can be ended from outside. */
import { createRequire } from "node:module";
import { mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { parentPort, workerData } from "node:worker_threads";
import { Fault } from "../../../core/fault.ts";
import type { MbtilesRows } from "../../../core/mapmaking/archive-copy-mbtiles.ts";
import type { MbtilesAnswer, TileBatch } from "./mbtiles-messages.ts";
import type { Database as SqliteDatabase, QueryResult } from "node-sqlite3-wasm";

const path = (workerData as { readonly path: string }).path;
const name = basename(path);

/** A hundred times a big tile. No source. */
const MOST_TILE_BYTES = 16 * 2 ** 20;
const BATCH_BYTES = 4 * 2 ** 20;
const BATCH_TILES = 2000;
/** Of the table `metadata`; the longest lists the layers and their fields. No source. */
const MOST_ROWS = 1000;
const MOST_VALUE_LENGTH = 4_000_000;
const SETTINGS = `
  PRAGMA locking_mode = EXCLUSIVE;
  PRAGMA trusted_schema = OFF;
  PRAGMA query_only = ON;
  PRAGMA cell_size_check = ON;
  PRAGMA temp_store = MEMORY;
  PRAGMA hard_heap_limit = ${128 * 2 ** 20};
`;

const broken = (error: unknown): Fault =>
  error instanceof Fault
    ? error
    : new Fault(
        "bad-archive",
        `The MBTiles archive cannot be read: ${error instanceof Error ? error.message.replaceAll(path, name) : "it is damaged"}.`,
        name,
        "Copy the file again or make it anew.",
      );

/**
 * SQLite puts its lock beside the file it opens. By a link in a folder of our own nothing comes beside the person's file;
 * once the lock is held it needs neither, and the folder is taken away: whatever happens then, nothing is left.
 */
function open(): SqliteDatabase {
  // CommonJS whose exports the loader of modules cannot make out.
  const { Database } = createRequire(import.meta.url)(
    "node-sqlite3-wasm",
  ) as typeof import("node-sqlite3-wasm");
  const folder = mkdtempSync(join(tmpdir(), "legwright-"));
  try {
    const link = join(folder, "archive");
    let place = link;
    try {
      symlinkSync(path, link);
    } catch {
      // Not every system lets a program make links.
      place = path;
    }
    const database = new Database(place, { readOnly: true, fileMustExist: true });
    database.exec(SETTINGS);
    database.get("SELECT count(*) FROM sqlite_schema");
    if (place === path) rmSync(`${path}.lock`, { recursive: true, force: true });
    return database;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function aboutOf(database: SqliteDatabase): { rows: MbtilesRows; tiles: number | null } {
  const there = new Set(
    database
      .all("SELECT name FROM sqlite_schema WHERE type IN ('table', 'view') AND name IN ('metadata', 'tiles')")
      .map((row) => row["name"]),
  );
  if (!there.has("tiles"))
    throw new Fault("bad-archive", "This is an SQLite file, but no MBTiles archive: it has no tiles.", name);
  const rows = there.has("metadata")
    ? database.all(
        `SELECT CAST(name AS TEXT) AS name, substr(CAST(value AS TEXT), 1, ${MOST_VALUE_LENGTH}) AS value
         FROM metadata WHERE name IS NOT NULL AND value IS NOT NULL LIMIT ${MOST_ROWS}`,
      )
    : [];
  // Counting a view would run it; a table's rows are as many as its last number, mostly.
  const last = isTable(database) ? database.get("SELECT max(rowid) AS tiles FROM tiles") : null;
  const tiles = last?.["tiles"];
  return {
    rows: rows.map((row) => [textOf(row["name"]), textOf(row["value"])] as const),
    tiles: typeof tiles === "number" ? tiles : null,
  };
}

/** What SQL has cast to text. */
const textOf = (value: unknown): string => (typeof value === "string" ? value : "");

function isTable(database: SqliteDatabase): boolean {
  const found = database.get(
    "SELECT 1 AS yes FROM sqlite_schema WHERE type = 'table' AND name = 'tiles' AND sql NOT LIKE '%WITHOUT ROWID%'",
  );
  return found !== null;
}

function* tilesOf(database: SqliteDatabase): Generator<QueryResult> {
  const statement = database.prepare(
    `SELECT zoom_level AS z, tile_column AS x, tile_row AS y, length(tile_data) AS size,
       CASE WHEN length(tile_data) <= ${MOST_TILE_BYTES} THEN CAST(tile_data AS BLOB) END AS data FROM tiles`,
  );
  try {
    yield* statement.iterate();
  } finally {
    statement.finalize();
  }
}

/** @returns null when there are no more */
function nextBatch(tiles: Iterator<QueryResult>): TileBatch | null {
  const index: number[] = [];
  const pieces: Uint8Array[] = [];
  let length = 0;
  while (length < BATCH_BYTES && pieces.length < BATCH_TILES) {
    const { done, value } = tiles.next();
    if (done) break;
    const { z, x, y, size, data } = value as Readonly<Record<string, unknown>>;
    const where = `${name}: tile ${String(z)}/${String(x)}/${String(y)}, rows from the south`;
    if (typeof z !== "number" || typeof x !== "number" || typeof y !== "number")
      throw new Fault("bad-tile", "A tile's zoom, column and row are no numbers.", where);
    if (typeof size === "number" && size > MOST_TILE_BYTES)
      throw new Fault("bad-tile", `A tile has ${size} bytes, more than any map's.`, where);
    const bytes = data instanceof Uint8Array ? data : new Uint8Array(0);
    // MBTiles 1.3, "Content": rows as in the Tile Map Service specification, from the south.
    index.push(z, x, 2 ** z - 1 - y, bytes.length);
    pieces.push(bytes);
    length += bytes.length;
  }
  if (pieces.length === 0) return null;
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return { index: Float64Array.from(index), bytes };
}

function work(): void {
  const say = (answer: MbtilesAnswer): void => {
    const hands =
      "batch" in answer && answer.batch ? [answer.batch.index.buffer, answer.batch.bytes.buffer] : [];
    parentPort?.postMessage(answer, hands as ArrayBuffer[]);
  };
  try {
    const database = open();
    const tiles = tilesOf(database);
    say({ about: aboutOf(database) });
    // Each message asks for the next tiles: what is read never runs ahead of what is written.
    parentPort?.on("message", () => {
      try {
        const batch = nextBatch(tiles);
        if (batch === null) database.close();
        say({ batch });
      } catch (error) {
        say({ fault: broken(error).toRecord() });
      }
    });
  } catch (error) {
    say({ fault: broken(error).toRecord() });
  }
}

work();
