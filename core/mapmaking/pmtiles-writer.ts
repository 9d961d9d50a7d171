/**
 * Writes PMTiles archives: clustered, each distinct tile stored once, neighbours that are equal as one run.
 * Source: PMTiles specification, version 3.
 */
import { zxyToTileId } from "pmtiles";
import { Fault } from "../fault.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import { type DirectoryEntry, directories, gzip } from "./pmtiles-directory.ts";

const HEADER_BYTES = 127;
/** Header and root directory have to lie within the first 16 KiB. */
const ROOT_LIMIT = 16_384 - HEADER_BYTES;
const GZIP = 2;
const NO_COMPRESSION = 1;
const TILE_TYPE = { mvt: 1, png: 2, webp: 4 } as const;

export interface ArchiveHeader {
  /** West, south, east, north of the data, degrees. */
  readonly bounds: Bbox;
  /** Where to look first; null takes the middle of the bounds at the lowest zoom. */
  readonly centre?: { readonly lonLat: LonLat; readonly zoom: number } | null;
  /** The archive's metadata object, written as JSON. */
  readonly metadata: Readonly<Record<string, unknown>>;
}

export interface ArchiveCounts {
  /** Tiles that can be asked for. */
  readonly addressed: number;
  /** Directory entries: runs of tiles with the same bytes. */
  readonly entries: number;
  /** Tiles stored. */
  readonly contents: number;
  readonly leafDirectories: number;
  readonly bytes: number;
}

interface Content {
  readonly bytes: Uint8Array;
  /** Place in the tile data, set when it is first laid out. */
  offset: number;
}

export interface PmtilesWriter {
  /**
   * Takes one tile; equal bytes are kept once. Vector tiles are gzipped here, pictures are stored as they are.
   * @param z zoom 0–26
   * @throws Fault "bad-argument" for a tile outside the pyramid, given twice, or empty
   */
  add(z: number, x: number, y: number, tile: Uint8Array): void;
  /**
   * The archive as pieces to be written one after the other, so that a large one never has to lie in memory twice.
   * @throws Fault "bad-argument" when there are no tiles or the bounds are not a box on earth
   */
  finish(header: ArchiveHeader): { readonly pieces: readonly Uint8Array[]; readonly counts: ArchiveCounts };
}

/** FNV-1a over 32 bits: only picks candidates, bytes are compared before two tiles count as one. */
function hashOf(bytes: Uint8Array): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < bytes.length; i++) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
  return hash >>> 0;
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

export function pmtilesWriter(tileType: keyof typeof TILE_TYPE): PmtilesWriter {
  const byHash = new Map<number, Content[]>();
  const tiles = new Map<number, Content>();
  let minZoom = Infinity;
  let maxZoom = -Infinity;

  const keep = (tile: Uint8Array): Content => {
    // Gzip first: equal input gives equal output, and only the small form has to be kept for comparing.
    const bytes = tileType === "mvt" ? gzip(tile) : tile;
    const hash = hashOf(bytes);
    const candidates = byHash.get(hash) ?? [];
    const known = candidates.find((content) => sameBytes(content.bytes, bytes));
    if (known) return known;
    const content: Content = { bytes, offset: -1 };
    byHash.set(hash, [...candidates, content]);
    return content;
  };

  return {
    add(z, x, y, tile) {
      const where = `tile ${z}/${x}/${y}`;
      const inside = (v: number): boolean => Number.isInteger(v) && v >= 0 && v < 2 ** z;
      if (!Number.isInteger(z) || z < 0 || z > 26 || !inside(x) || !inside(y))
        throw new Fault(
          "bad-argument",
          "There is no such tile: zooms run from 0 to 26, columns and rows from 0 to 2^zoom − 1.",
          where,
        );
      if (tile.length === 0)
        throw new Fault("bad-argument", "A tile without bytes cannot be stored: leave it out.", where);
      const id = zxyToTileId(z, x, y);
      if (tiles.has(id)) throw new Fault("bad-argument", "This tile was given twice.", where);
      tiles.set(id, keep(tile));
      minZoom = Math.min(minZoom, z);
      maxZoom = Math.max(maxZoom, z);
    },

    finish({ bounds, centre, metadata }) {
      if (tiles.size === 0) throw new Fault("bad-argument", "A map archive needs at least one tile.");
      const [west, south, east, north] = bounds;
      if (!(west >= -180 && west <= east && east <= 180 && south >= -90 && south <= north && north <= 90))
        throw new Fault(
          "bad-argument",
          `The bounds ${bounds.join(", ")} are not west, south, east, north in degrees.`,
        );

      const entries: DirectoryEntry[] = [];
      const stored: Uint8Array[] = [];
      let dataLength = 0;
      for (const [tileId, content] of [...tiles].sort((a, b) => a[0] - b[0])) {
        const last = entries.at(-1);
        if (last && last.offset === content.offset && last.tileId + last.runLength === tileId) {
          entries[entries.length - 1] = { ...last, runLength: last.runLength + 1 };
          continue;
        }
        if (content.offset < 0) {
          content.offset = dataLength;
          dataLength += content.bytes.length;
          stored.push(content.bytes);
        }
        entries.push({ tileId, offset: content.offset, length: content.bytes.length, runLength: 1 });
      }

      const { root, leaves, leafCount } = directories(entries, ROOT_LIMIT);
      const meta = gzip(new TextEncoder().encode(JSON.stringify(metadata)));
      const head = new Uint8Array(HEADER_BYTES);
      const view = new DataView(head.buffer);
      head.set(new TextEncoder().encode("PMTiles"));
      view.setUint8(7, 3);
      let at = 8;
      const put64 = (value: number): void => {
        view.setBigUint64(at, BigInt(value), true);
        at += 8;
      };
      const metaAt = HEADER_BYTES + root.length;
      const leavesAt = metaAt + meta.length;
      const dataAt = leavesAt + leaves.length;
      for (const value of [
        HEADER_BYTES,
        root.length,
        metaAt,
        meta.length,
        leavesAt,
        leaves.length,
        dataAt,
        dataLength,
      ])
        put64(value);
      for (const value of [tiles.size, entries.length, stored.length]) put64(value);
      view.setUint8(96, 1); // clustered: tile data lie in the order of their ids
      view.setUint8(97, GZIP);
      view.setUint8(98, tileType === "mvt" ? GZIP : NO_COMPRESSION);
      view.setUint8(99, TILE_TYPE[tileType]);
      view.setUint8(100, minZoom);
      view.setUint8(101, maxZoom);
      const e7 = (degrees: number): number => Math.round(degrees * 1e7);
      bounds.forEach((degrees, i) => view.setInt32(102 + 4 * i, e7(degrees), true));
      const middle = centre ?? { lonLat: [(west + east) / 2, (south + north) / 2] as const, zoom: minZoom };
      view.setUint8(118, middle.zoom);
      view.setInt32(119, e7(middle.lonLat[0]), true);
      view.setInt32(123, e7(middle.lonLat[1]), true);

      const counts = {
        addressed: tiles.size,
        entries: entries.length,
        contents: stored.length,
        leafDirectories: leafCount,
        bytes: dataAt + dataLength,
      };
      return { pieces: [head, root, meta, leaves, ...stored], counts };
    },
  };
}

/** The pieces as one array of bytes. */
export function joinPieces(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}
