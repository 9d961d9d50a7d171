/**
 * Reading a PMTiles v3 archive over a byte source.
 * Source: PMTiles version 3 specification; the reading itself is the `pmtiles` package's.
 * Only this file knows that package: what it throws comes out as a Fault.
 */
import { Compression, type Header, PMTiles, ResolvedValueCache, type Source } from "pmtiles";
import { Fault } from "../fault.ts";
import type { ByteSource } from "./source.ts";
import { type ArchiveDecoders, unpack } from "./unpack.ts";

export { TileType } from "pmtiles";

export interface Archive {
  readonly key: string;
  readonly header: Header;
  /** The archive's metadata JSON; empty when it has none. */
  readonly metadata: Readonly<Record<string, unknown>>;
  /**
   * One tile, decompressed; null when the archive does not have it.
   * @throws Fault "bad-tile" when its bytes are damaged, else what the byte source throws
   */
  readTile(z: number, x: number, y: number): Promise<Uint8Array | null>;
}

const TRY_AGAIN = "Copy the file again or make the map again.";
const PACKINGS = new Map<number, string>([
  [Compression.Brotli, "Brotli"],
  [Compression.Zstd, "Zstandard"],
]);
/** Leaf directories kept: each covers thousands of tiles. */
const DIRECTORIES_KEPT = 64;
/** More than any one part of an archive takes: a longer one is a damaged directory's. No source. */
const MOST_READ_BYTES = 64 * 2 ** 20;
/** Writers keep directories to some thousands of entries. No source. */
const MOST_ENTRIES = 1_000_000;

/**
 * Opens an archive and checks what can be checked without reading tiles.
 * @param decoders what the host unpacks, beyond gzip
 * @throws Fault "bad-archive" when it is empty, not PMTiles v3, truncated, packed in a way not known, or its metadata
 * is no JSON; what the byte source throws
 */
export async function openArchive(source: ByteSource, decoders: ArchiveDecoders = {}): Promise<Archive> {
  const bad = (what: string): Fault => new Fault("bad-archive", what, source.key, TRY_AGAIN);
  const start = await source.read(0, 127);
  if (start.length === 0) throw bad("The map archive is empty.");
  if (!startsWith(start, "PMTiles")) throw bad("This is not a PMTiles archive.");
  if (start.length < 127) throw bad("The map archive is cut short: its header is not complete.");
  if (start[7] !== 3) throw bad(`The map archive is PMTiles version ${start[7]}; version 3 is needed.`);

  // Bytes 97 and 98: how directories and metadata, and how tiles are packed.
  for (const packing of [start[97], start[98]]) {
    const known: number = decoders.unbrotli ? Compression.Brotli : Compression.Gzip;
    if (packing !== undefined && packing > known)
      throw bad(
        `The map archive is packed with ${PACKINGS.get(packing) ?? `method ${packing}`}, which cannot be unpacked here.`,
      );
  }

  const reader = new PMTiles(
    sourceFor(source),
    new ResolvedValueCache(DIRECTORIES_KEPT, true, async (data, method) =>
      checkedDirectory(await unpack(data, method, decoders)),
    ),
    (data, method) => unpack(data, method, decoders),
  );
  let header: Header;
  try {
    header = await reader.getHeader();
  } catch (thrown) {
    throw asDamage(thrown, bad);
  }
  if (header.minZoom > header.maxZoom || header.maxZoom > 26)
    throw bad(`The map archive's header is damaged: zooms ${header.minZoom} to ${header.maxZoom}.`);
  // PMTiles version 3 specification, §3: the root directory lies within the first 16 KiB.
  if (header.rootDirectoryOffset + header.rootDirectoryLength > 16_384)
    throw bad("The map archive's header is damaged: its first directory is too long.");
  const end = header.tileDataOffset + (header.tileDataLength ?? 0);
  if (header.tileDataLength && (await source.read(end - 1, 1)).length === 0)
    throw bad(`The map archive is cut short: it should be at least ${end} bytes long.`);

  let metadata: unknown = {};
  if (header.jsonMetadataLength > 0)
    try {
      metadata = await reader.getMetadata();
    } catch (thrown) {
      throw asDamage(thrown, bad);
    }

  return {
    key: source.key,
    header,
    metadata:
      typeof metadata === "object" && metadata !== null && !Array.isArray(metadata) ? { ...metadata } : {},
    async readTile(z, x, y) {
      try {
        const answer = await reader.getZxy(z, x, y);
        return answer ? new Uint8Array(answer.data) : null;
      } catch (thrown) {
        if (thrown instanceof Fault && thrown.code !== "bad-tile") throw thrown;
        throw new Fault("bad-tile", `Tile ${z}/${x}/${y} cannot be read.`, source.key, TRY_AGAIN);
      }
    },
  };
}

/** What was thrown while reading the archive's own parts: an unreadable source stays what it is, the rest is damage. */
function asDamage(thrown: unknown, bad: (what: string) => Fault): Fault {
  if (thrown instanceof Fault && thrown.code !== "bad-tile") return thrown;
  return bad("The map archive's directory or description is damaged.");
}

function sourceFor(source: ByteSource): Source {
  return {
    getKey: () => source.key,
    async getBytes(offset, length) {
      if (!(length <= MOST_READ_BYTES) || !Number.isSafeInteger(offset))
        throw new Fault("bad-tile", "The map archive's directory is damaged.", source.key, TRY_AGAIN);
      let bytes: Uint8Array;
      try {
        bytes = await source.read(offset, length);
      } catch (thrown) {
        throw Fault.from(thrown);
      }
      // The first read asks for more than small archives have; any other short answer is a truncated file.
      if (offset > 0 && bytes.length < length)
        throw new Fault("bad-tile", "The map archive is cut short.", source.key, TRY_AGAIN);
      return { data: new Uint8Array(bytes).buffer };
    },
  };
}

/**
 * A directory, unless it claims more entries than it has bytes for: the reader would go on making entries up.
 * Each entry is at least four bytes, one in each of the four columns (PMTiles version 3 specification, §4).
 * @throws Fault "bad-tile"
 */
function checkedDirectory(data: ArrayBuffer): ArrayBuffer {
  const bytes = new Uint8Array(data);
  let entries = 0;
  let at = 0;
  for (; at < 10; at++) {
    const byte = bytes[at] ?? 0;
    entries += (byte & 127) * 2 ** (7 * at);
    if (byte < 128) break;
  }
  if (entries > MOST_ENTRIES || entries * 4 > bytes.length - at - 1)
    throw new Fault("bad-tile", "A directory of the map archive is damaged.", null, TRY_AGAIN);
  return data;
}

function startsWith(bytes: Uint8Array, text: string): boolean {
  for (let i = 0; i < text.length; i++) if (bytes[i] !== text.charCodeAt(i)) return false;
  return true;
}
