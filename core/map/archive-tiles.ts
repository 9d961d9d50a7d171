/**
 * All tiles of an archive, one after the other, found by walking its directories.
 * Source: PMTiles specification, version 3, section "Directories".
 */
import { type Header, tileIdToZxy } from "pmtiles";
import { Fault } from "../fault.ts";
import type { Archive } from "./archive.ts";
import type { ByteSource } from "./source.ts";
import { type ArchiveDecoders, unpack } from "./unpack.ts";

interface Entry {
  readonly tileId: number;
  readonly offset: number;
  readonly length: number;
  readonly runLength: number;
}

/** Directories inside directories: the specification advises one level, no reader goes deeper than this. */
const MOST_LEVELS = 4;
const MOST_DIRECTORY_BYTES = 64 * 2 ** 20;
/** Tile ids of zoom 26 end here. */
const MOST_ID = (4 ** 27 - 1) / 3;

/**
 * Tiles as stored, unpacked.
 * @throws Fault "bad-archive" when a directory is damaged, "bad-tile" when a tile is
 */
export async function* archiveTiles(
  source: ByteSource,
  { header, key }: Archive,
  decoders: ArchiveDecoders = {},
): AsyncGenerator<{
  readonly z: number;
  readonly x: number;
  readonly y: number;
  readonly bytes: Uint8Array;
}> {
  for await (const entry of entriesOf(source, header, decoders)) {
    const packed = await source.read(header.tileDataOffset + entry.offset, entry.length);
    const [z, x, y] = tileIdToZxy(entry.tileId);
    if (packed.length < entry.length)
      throw new Fault("bad-tile", "The map archive is cut short.", `${key}: tile ${z}/${x}/${y}`);
    const bytes = new Uint8Array(
      await unpack(new Uint8Array(packed).buffer, header.tileCompression, decoders),
    );
    for (let i = 0; i < entry.runLength; i++) {
      const [zoom, column, row] = tileIdToZxy(entry.tileId + i);
      yield { z: zoom, x: column, y: row, bytes };
    }
  }
}

async function* entriesOf(
  source: ByteSource,
  header: Header,
  decoders: ArchiveDecoders,
): AsyncGenerator<Entry> {
  let last = -1;
  const read = async function* (offset: number, length: number, level: number): AsyncGenerator<Entry> {
    for (const entry of await directoryAt(source, offset, length, header, decoders)) {
      if (entry.runLength === 0) {
        if (level === MOST_LEVELS) throw damaged(source);
        yield* read(header.leafDirectoryOffset + entry.offset, entry.length, level + 1);
        continue;
      }
      // Ids rise all through: a directory that points back at itself would never end.
      if (entry.tileId <= last || entry.tileId + entry.runLength > MOST_ID) throw damaged(source);
      last = entry.tileId + entry.runLength - 1;
      yield entry;
    }
  };
  yield* read(header.rootDirectoryOffset, header.rootDirectoryLength, 1);
}

async function directoryAt(
  source: ByteSource,
  offset: number,
  length: number,
  header: Header,
  decoders: ArchiveDecoders,
): Promise<Entry[]> {
  if (!(length > 0 && length <= MOST_DIRECTORY_BYTES)) throw damaged(source);
  const packed = await source.read(offset, length);
  const bytes = new Uint8Array(
    await unpack(new Uint8Array(packed).buffer, header.internalCompression, decoders),
  );
  let at = 0;
  const varint = (): number => {
    let value = 0;
    for (let scale = 1; ; scale *= 128) {
      const byte = bytes[at++];
      if (byte === undefined || scale > 2 ** 56) throw damaged(source);
      value += (byte & 127) * scale;
      if (byte < 128) return value;
    }
  };
  const count = varint();
  // Four columns, at least a byte each.
  if (count * 4 > bytes.length - at) throw damaged(source);
  const column = (): number[] => Array.from({ length: count }, varint);
  let id = 0;
  const ids = column().map((step) => (id += step));
  const runs = column();
  const lengths = column();
  let next = 0;
  return column().map((stored, i) => {
    const place = stored === 0 && i > 0 ? next : stored - 1;
    next = place + (lengths[i] as number);
    return {
      tileId: ids[i] as number,
      offset: place,
      length: lengths[i] as number,
      runLength: runs[i] as number,
    };
  });
}

const damaged = ({ key }: ByteSource): Fault =>
  new Fault(
    "bad-archive",
    "A directory of the map archive is damaged.",
    key,
    "Copy the file again or make it anew.",
  );
