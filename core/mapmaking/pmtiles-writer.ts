/**
 * Writes PMTiles archives: clustered, each distinct tile stored once, neighbours that are equal as one run.
 * Source: PMTiles specification, version 3.
 */
import { tileIdToZxy, zxyToTileId } from "pmtiles";
import { Fault } from "../fault.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import { plainCodecs } from "./codecs.ts";
import { type DirectoryEntry, directories } from "./pmtiles-directory.ts";
import type { TilePack } from "./tile-pack.ts";
import { memorySpool, type Spool } from "./spool.ts";

const HEADER_BYTES = 127;
/** Header and root directory have to lie within the first 16 KiB. */
const ROOT_LIMIT = 16_384 - HEADER_BYTES;
const GZIP = 2;
const NO_COMPRESSION = 1;
const TILE_TYPE = { mvt: 1, png: 2, jpeg: 3, webp: 4 } as const;

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

export interface PmtilesWriter {
  /**
   * Takes one tile; equal bytes are kept once. Vector tiles are gzipped here, pictures are stored as they are.
   * @param z zoom 0–26
   * @throws Fault "bad-argument" for a tile outside the pyramid, given twice, or empty
   */
  add(z: number, x: number, y: number, tile: Uint8Array): void;
  /**
   * Takes tiles as they are to be stored: vector tiles are gzipped already.
   * @throws Fault as `add`
   */
  addPack(pack: TilePack): void;
  /**
   * The archive from its first byte to its last, read from the spool as it is asked for; a piece is good until the next.
   * @throws Fault "bad-argument" when there are no tiles or the bounds are not a box on earth
   */
  stream(header: ArchiveHeader): { readonly pieces: Iterable<Uint8Array>; readonly counts: ArchiveCounts };
  /**
   * The archive as pieces to be written one after the other.
   * @throws Fault as `stream`
   */
  finish(header: ArchiveHeader): { readonly pieces: readonly Uint8Array[]; readonly counts: ArchiveCounts };
}

/** FNV-1a over 32 bits and some thousand bytes: only picks candidates, all bytes are compared before two tiles count as one. */
function hashOf(bytes: Uint8Array): number {
  let hash = 0x811c9dc5 ^ bytes.length;
  const step = 1 + (bytes.length >> 11);
  for (let i = 0; i < bytes.length; i += step) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
  return hash >>> 0;
}

function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Most bytes of tile data copied at a time. */
const COPY_BYTES = 1 << 22;

/** @param spool where tile data wait until all are there; in memory when left out */
export function pmtilesWriter(tileType: keyof typeof TILE_TYPE, spool: Spool = memorySpool()): PmtilesWriter {
  // Contents by number: where they lie in the spool, and which other content has the same hash.
  const places: number[] = [];
  const lengths: number[] = [];
  const sameHash: number[] = [];
  const byHash = new Map<number, number>();
  const tiles = new Map<number, number>();

  const keep = (bytes: Uint8Array): number => {
    const hash = hashOf(bytes);
    const first = byHash.get(hash) ?? -1;
    for (let k = first; k >= 0; k = sameHash[k]!)
      if (lengths[k] === bytes.length && sameBytes(spool.read(places[k]!, bytes.length), bytes)) return k;
    const content = places.push(spool.append(bytes)) - 1;
    lengths.push(bytes.length);
    sameHash.push(first);
    byHash.set(hash, content);
    return content;
  };
  const take = (id: number, bytes: Uint8Array, where: () => string): void => {
    if (bytes.length === 0)
      throw new Fault("bad-argument", "A tile without bytes cannot be stored: leave it out.", where());
    if (tiles.has(id)) throw new Fault("bad-argument", "This tile was given twice.", where());
    tiles.set(id, keep(bytes));
  };

  const writer: PmtilesWriter = {
    add(z, x, y, tile) {
      const where = (): string => `tile ${z}/${x}/${y}`;
      const inside = (v: number): boolean => Number.isInteger(v) && v >= 0 && v < 2 ** z;
      if (!Number.isInteger(z) || z < 0 || z > 26 || !inside(x) || !inside(y))
        throw new Fault(
          "bad-argument",
          "There is no such tile: zooms run from 0 to 26, columns and rows from 0 to 2^zoom − 1.",
          where(),
        );
      // Gzip first: equal input gives equal output, and only the small form has to be compared.
      const stored = tileType === "mvt" && tile.length > 0 ? plainCodecs.gzip(tile) : tile;
      take(zxyToTileId(z, x, y), stored, where);
    },

    addPack({ index, bytes }) {
      let from = 0;
      for (let i = 0; i < index.length; i += 2) {
        const id = index[i]!;
        const to = from + index[i + 1]!;
        take(id, bytes.subarray(from, to), () => `tile ${tileIdToZxy(id).join("/")}`);
        from = to;
      }
    },

    finish(header) {
      const { pieces, counts } = writer.stream(header);
      return { pieces: Array.from(pieces, (piece) => piece.slice()), counts };
    },

    stream({ bounds, centre, metadata }) {
      if (tiles.size === 0) throw new Fault("bad-argument", "A map archive needs at least one tile.");
      const [west, south, east, north] = bounds;
      if (!(west >= -180 && west <= east && east <= 180 && south >= -90 && south <= north && north <= 90))
        throw new Fault(
          "bad-argument",
          `The bounds ${bounds.join(", ")} are not west, south, east, north in degrees.`,
        );

      const entries: DirectoryEntry[] = [];
      const stored: number[] = [];
      const offsets = new Map<number, number>();
      let dataLength = 0;
      const ids = Float64Array.from(tiles.keys()).sort();
      for (const tileId of ids) {
        const content = tiles.get(tileId)!;
        const last = entries.at(-1);
        const known = offsets.get(content);
        if (last && last.offset === known && last.tileId + last.runLength === tileId) {
          entries[entries.length - 1] = { ...last, runLength: last.runLength + 1 };
          continue;
        }
        if (known === undefined) {
          offsets.set(content, dataLength);
          stored.push(content);
        }
        entries.push({ tileId, offset: known ?? dataLength, length: lengths[content]!, runLength: 1 });
        if (known === undefined) dataLength += lengths[content]!;
      }
      const minZoom = tileIdToZxy(ids[0]!)[0];
      const maxZoom = tileIdToZxy(ids.at(-1)!)[0];

      const { root, leaves, leafCount } = directories(entries, ROOT_LIMIT);
      const meta = plainCodecs.gzip(new TextEncoder().encode(JSON.stringify(metadata)));
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
      const pieces = function* (): Generator<Uint8Array> {
        yield* [head, root, meta, leaves];
        // What lies together in the spool is read together.
        for (let i = 0; i < stored.length;) {
          const start = places[stored[i]!]!;
          let length = 0;
          while (
            i < stored.length &&
            places[stored[i]!] === start + length &&
            (length === 0 || length + lengths[stored[i]!]! <= COPY_BYTES)
          )
            length += lengths[stored[i++]!]!;
          yield spool.read(start, length);
        }
      };
      return { pieces: pieces(), counts };
    },
  };
  return writer;
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
