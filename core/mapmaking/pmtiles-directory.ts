/**
 * Directories of a PMTiles archive: which tile ids lie where in the tile data.
 * Source: PMTiles specification, version 3, section "Directories".
 */
import { PbfWriter } from "pbf";
import { plainCodecs } from "./codecs.ts";

/** `runLength` tiles from `tileId` on share the bytes at `offset`; run length 0 points to a leaf directory instead. */
export interface DirectoryEntry {
  readonly tileId: number;
  readonly offset: number;
  readonly length: number;
  readonly runLength: number;
}

export interface Directories {
  /** Gzipped root directory. */
  readonly root: Uint8Array;
  /** Gzipped leaf directories one after the other; empty when the root holds every entry. */
  readonly leaves: Uint8Array;
  readonly leafCount: number;
}

const gzip = (bytes: Uint8Array): Uint8Array => plainCodecs.gzip(bytes);

/** Columns, not rows: ids as differences, then run lengths, lengths, and offsets with 0 for "right after the last". */
function directoryBytes(entries: readonly DirectoryEntry[]): Uint8Array {
  const out = new PbfWriter();
  out.writeVarint(entries.length);
  let lastId = 0;
  for (const entry of entries) {
    out.writeVarint(entry.tileId - lastId);
    lastId = entry.tileId;
  }
  for (const entry of entries) out.writeVarint(entry.runLength);
  for (const entry of entries) out.writeVarint(entry.length);
  let expected = -1;
  for (const entry of entries) {
    out.writeVarint(entry.offset === expected ? 0 : entry.offset + 1);
    expected = entry.offset + entry.length;
  }
  return gzip(out.finish());
}

function withLeaves(entries: readonly DirectoryEntry[], leafSize: number): Directories {
  const pieces: Uint8Array[] = [];
  const rootEntries: DirectoryEntry[] = [];
  let offset = 0;
  for (let start = 0; start < entries.length; start += leafSize) {
    const part = entries.slice(start, start + leafSize);
    const bytes = directoryBytes(part);
    rootEntries.push({ tileId: part[0]?.tileId ?? 0, offset, length: bytes.length, runLength: 0 });
    pieces.push(bytes);
    offset += bytes.length;
  }
  const leaves = new Uint8Array(offset);
  rootEntries.forEach((entry, i) => leaves.set(pieces[i]!, entry.offset));
  return { root: directoryBytes(rootEntries), leaves, leafCount: pieces.length };
}

/**
 * Root and leaf directories such that the root takes at most `maxRootBytes`: readers fetch it blindly
 * with the header, so it must fit into the first 16 KiB of the archive.
 * @param entries sorted by tile id
 */
export function directories(entries: readonly DirectoryEntry[], maxRootBytes: number): Directories {
  const flat = directoryBytes(entries);
  if (flat.length <= maxRootBytes) return { root: flat, leaves: new Uint8Array(0), leafCount: 0 };
  for (let leafSize = 4096; ; leafSize *= 2) {
    const split = withLeaves(entries, leafSize);
    if (split.root.length <= maxRootBytes) return split;
  }
}
