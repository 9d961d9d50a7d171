/**
 * Reading a PMTiles v3 archive over a byte source.
 * Source: PMTiles version 3 specification; the reading itself is the `pmtiles` package's.
 * Only this file knows that package: what it throws comes out as a Fault.
 */
import { gunzipSync } from "fflate";
import { Compression, type Header, PMTiles, ResolvedValueCache, type Source } from "pmtiles";
import { Fault } from "../fault.ts";
import type { ByteSource } from "./source.ts";

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
const GZIP: number = Compression.Gzip;
const PACKINGS = new Map<number, string>([
  [Compression.Brotli, "Brotli"],
  [Compression.Zstd, "Zstandard"],
]);
/** Leaf directories kept: each covers thousands of tiles. */
const DIRECTORIES_KEPT = 64;

/**
 * Opens an archive and checks what can be checked without reading tiles.
 * @throws Fault "bad-archive" when it is empty, not PMTiles v3, truncated, packed in a way not known, or its metadata
 * is no JSON; what the byte source throws
 */
export async function openArchive(source: ByteSource): Promise<Archive> {
  const bad = (what: string): Fault => new Fault("bad-archive", what, source.key, TRY_AGAIN);
  const start = await source.read(0, 127);
  if (start.length === 0) throw bad("The map archive is empty.");
  if (!startsWith(start, "PMTiles")) throw bad("This is not a PMTiles archive.");
  if (start.length < 127) throw bad("The map archive is cut short: its header is not complete.");
  if (start[7] !== 3) throw bad(`The map archive is PMTiles version ${start[7]}; version 3 is needed.`);

  // Bytes 97 and 98: how directories and metadata, and how tiles are packed.
  for (const packing of [start[97], start[98]])
    if (packing !== undefined && packing > GZIP)
      throw bad(
        `The map archive is packed with ${PACKINGS.get(packing) ?? `method ${packing}`}, not with gzip.`,
      );

  const reader = new PMTiles(
    sourceFor(source),
    new ResolvedValueCache(DIRECTORIES_KEPT, true, unpack),
    unpack,
  );
  let header: Header;
  try {
    header = await reader.getHeader();
  } catch (thrown) {
    throw asDamage(thrown, bad);
  }
  if (header.minZoom > header.maxZoom || header.maxZoom > 26)
    throw bad(`The map archive's header is damaged: zooms ${header.minZoom} to ${header.maxZoom}.`);
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
        if (thrown instanceof Fault) throw thrown;
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

async function unpack(data: ArrayBuffer, compression: Compression): Promise<ArrayBuffer> {
  const bytes = new Uint8Array(data);
  const gzipped = bytes[0] === 0x1f && bytes[1] === 0x8b;
  if (compression !== Compression.Gzip && !(compression === Compression.Unknown && gzipped)) return data;
  const plain = gunzipSync(bytes);
  return plain.byteLength === plain.buffer.byteLength ? plain.buffer : new Uint8Array(plain).buffer;
}

function startsWith(bytes: Uint8Array, text: string): boolean {
  for (let i = 0; i < text.length; i++) if (bytes[i] !== text.charCodeAt(i)) return false;
  return true;
}
