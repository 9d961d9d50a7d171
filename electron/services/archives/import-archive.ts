import { stat } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { Fault } from "../../../core/fault.ts";
import {
  type CopiedType,
  copyTiles,
  type CopyCounts,
  type StoredTile,
} from "../../../core/mapmaking/archive-copy.ts";
import { pictureType } from "../../../core/map/pictures.ts";
import { mbtilesHeader, mbtilesType } from "../../../core/mapmaking/archive-copy-mbtiles.ts";
import {
  type ArchiveCounts,
  type ArchiveHeader,
  pmtilesWriter,
} from "../../../core/mapmaking/pmtiles-writer.ts";
import { type Progress } from "../../../core/mapmaking/pace.ts";
import { saveAll } from "../atomic-save.ts";
import { fileSpool, type ScratchFile, scratchFile } from "../map-making/scratch-file.ts";
import { openMbtiles } from "./mbtiles-reader.ts";

export interface ConvertOptions {
  readonly signal?: AbortSignal | undefined;
  readonly progress?: ((progress: Progress) => void) | undefined;
  /** In place of the archive's own name. */
  readonly title?: string | undefined;
  /** False: a file of the new name must not be there yet (Fault "exists"). */
  readonly replace?: boolean | undefined;
}

export interface Converted {
  readonly type: CopiedType;
  readonly tiles: CopyCounts;
  readonly archive: ArchiveCounts;
}

/** What is stored may be packed less well than it was, or computed by a view: more than this is no map. No source. */
const MOST_GROWTH = 4;
const ROOM_BYTES = 16 * 2 ** 20;

/** Whether an archive has to be converted before it can be opened. */
export const needsConverting = (path: string): boolean => /\.mbtiles$/i.test(path);

/**
 * Makes an archive ready to be opened: an .mbtiles becomes a .pmtiles of the same name in a folder, whole or not at all;
 * a .pmtiles is ready.
 * @returns where the archive to open lies
 * @throws Fault as `convertMbtiles`; "exists" when the folder has an archive of that name, unless `replace`
 */
export async function importArchive(
  path: string,
  outFolder: string,
  options: ConvertOptions = {},
): Promise<string> {
  if (!needsConverting(path)) return path;
  const out = join(resolve(outFolder), basename(path).replace(/\.mbtiles$/i, ".pmtiles"));
  if (options.replace !== true && (await stat(out).catch(() => null)))
    throw new Fault(
      "exists",
      "The archive was converted before: there is a map of this name already.",
      basename(out),
      "Open that one, or rename or remove it first.",
    );
  await convertMbtiles(path, out, { ...options, replace: options.replace === true });
  return out;
}

/**
 * An MBTiles archive as PMTiles, both for vector tiles and for pictures. Tiles wait in a nameless file beside the new one.
 * @throws Fault "bad-archive", "bad-tile" when it is damaged or no MBTiles archive; "cancelled"; "no-space" …
 */
export async function convertMbtiles(
  path: string,
  out: string,
  options: ConvertOptions = {},
): Promise<Converted> {
  const name = basename(path);
  const { size } = await stat(path).catch(() => ({ size: 0 }));
  const reader = await openMbtiles(path, options.signal);
  try {
    const said = mbtilesType(reader.rows, name);
    const tiles = await withFirst(reader.tiles());
    const type = said ?? (tiles.first && pictureType(tiles.first.bytes)) ?? "mvt";
    return await writeArchive(
      {
        name,
        type,
        tiles: tiles.all,
        tilesAbout: reader.tilesAbout,
        mostBytes: size * MOST_GROWTH + ROOM_BYTES,
        headerFor: (seen) => mbtilesHeader(reader.rows, type, seen, options.title ?? null),
      },
      out,
      options,
    );
  } finally {
    await reader.close();
  }
}

export interface CopySource {
  readonly name: string;
  readonly type: CopiedType;
  readonly tiles: AsyncIterable<StoredTile>;
  readonly tilesAbout: number | null;
  /** Most bytes of different tiles that may come of it. */
  readonly mostBytes: number;
  headerFor(seen: CopyCounts): ArchiveHeader;
}

/** Takes tiles over into a new archive, whole or not at all. @throws Fault as `copyTiles` and `saveAll` */
export async function writeArchive(
  source: CopySource,
  out: string,
  { signal, progress, replace }: ConvertOptions,
): Promise<Converted> {
  const scratch: ScratchFile = scratchFile(out);
  try {
    const spool = fileSpool(scratch);
    let spooled = 0;
    const writer = pmtilesWriter(source.type, {
      ...spool,
      append(bytes) {
        if ((spooled += bytes.length) > source.mostBytes)
          throw new Fault(
            "bad-archive",
            "The archive gives more tiles than a file of its size can hold.",
            source.name,
            "Make it anew.",
          );
        return spool.append(bytes);
      },
    });
    const started = performance.now();
    const seen = await copyTiles(
      source.tiles,
      source.type,
      source.name,
      writer,
      { gzip: (bytes) => gzipSync(bytes) },
      {
        signal,
        taken(tiles) {
          const share = source.tilesAbout ? Math.min(1, tiles / source.tilesAbout) : 0;
          const spentS = (performance.now() - started) / 1000;
          const leftS = share > 0.02 ? (spentS * (1 - share)) / share : null;
          progress?.({ stage: "Converting tiles", done: share, leftS });
        },
      },
    );
    const { pieces, counts } = writer.stream(source.headerFor(seen));
    await saveAll([{ path: out, content: pieces }], { replace: replace !== false });
    progress?.({ stage: "Done", done: 1, leftS: 0 });
    return { type: source.type, tiles: seen, archive: counts };
  } finally {
    scratch.close();
  }
}

/** The first of some tiles, and all of them, the first included. */
async function withFirst(
  tiles: AsyncIterable<StoredTile>,
): Promise<{ first: StoredTile | null; all: AsyncIterable<StoredTile> }> {
  const iterator = tiles[Symbol.asyncIterator]();
  const { done, value } = await iterator.next();
  if (done) return { first: null, all: tiles };
  return {
    first: value,
    all: (async function* () {
      yield value;
      for (let next = await iterator.next(); !next.done; next = await iterator.next()) yield next.value;
    })(),
  };
}
