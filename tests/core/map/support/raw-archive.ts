/**
 * Archives put together byte by byte, with any part as wrong as a test wants it.
 * Source: PMTiles version 3 specification: header §3, directories §4, tile numbers (Hilbert curve) §4.1.
 */
import type { Bbox } from "../../../../core/units/position.ts";

export interface Entry {
  readonly id: number;
  /** Tiles: how many in a row share the bytes. 0: a leaf directory. */
  readonly run: number;
  readonly length: number;
  readonly offset: number;
}

function varint(n: number): number[] {
  const out: number[] = [];
  let rest = n;
  while (rest >= 128) {
    out.push((rest % 128) | 128);
    rest = Math.floor(rest / 128);
  }
  return [...out, rest];
}

export function directoryBytes(entries: readonly Entry[]): Uint8Array {
  const out = varint(entries.length);
  entries.forEach(({ id }, i) => out.push(...varint(id - (entries[i - 1]?.id ?? 0))));
  for (const { run } of entries) out.push(...varint(run));
  for (const { length } of entries) out.push(...varint(length));
  for (const { offset } of entries) out.push(...varint(offset + 1));
  return Uint8Array.from(out);
}

/** A tile's number along the Hilbert curves of all zooms before it and its own. */
export function tileNumber(z: number, x: number, y: number): number {
  let number = (4 ** z - 1) / 3;
  let [tx, ty] = [x, y];
  for (let side = 2 ** (z - 1); side >= 1; side /= 2) {
    const rx = (tx & side) > 0 ? 1 : 0;
    const ry = (ty & side) > 0 ? 1 : 0;
    number += side * side * ((3 * rx) ^ ry);
    if (ry === 0) {
      if (rx === 1) [tx, ty] = [side - 1 - (tx & (side - 1)), side - 1 - (ty & (side - 1))];
      [tx, ty] = [ty, tx];
    }
    tx &= side - 1;
    ty &= side - 1;
  }
  return number;
}

export interface RawArchive {
  /** As they lie in the archive, packed already. */
  readonly tiles: readonly {
    readonly z: number;
    readonly x: number;
    readonly y: number;
    readonly bytes: Uint8Array;
  }[];
  readonly bounds: Bbox;
  readonly metadata?: object;
  /** Numbers of the header for how directories and metadata, and how tiles are packed. */
  readonly inner: number;
  readonly tilePacking: number;
  readonly pack: (bytes: Uint8Array) => Uint8Array;
  /** One leaf directory below the root. */
  readonly leaves?: boolean;
  /** In place of the entries of the root: leaf entries count from the first byte of the leaves. */
  readonly root?: readonly Entry[];
  readonly leafBytes?: Uint8Array;
  /** Offsets into the header, and whole numbers of eight bytes put there. */
  readonly header?: Readonly<Record<number, number>>;
}

export function rawArchive(want: RawArchive): Uint8Array {
  const { tiles, bounds, inner, tilePacking, pack, metadata = { name: "Packed" } } = want;
  let offset = 0;
  const entries = tiles
    .map(({ z, x, y, bytes }) => {
      const entry = { id: tileNumber(z, x, y), run: 1, length: bytes.length, offset };
      offset += bytes.length;
      return entry;
    })
    .toSorted((a, b) => a.id - b.id);
  const leaf = want.leafBytes ?? (want.leaves ? pack(directoryBytes(entries)) : new Uint8Array(0));
  const root = pack(
    directoryBytes(
      want.root ??
        (want.leaves ? [{ id: entries[0]?.id ?? 0, run: 0, length: leaf.length, offset: 0 }] : entries),
    ),
  );
  const json = pack(new TextEncoder().encode(JSON.stringify(metadata)));
  const data = Buffer.concat(tiles.map(({ bytes }) => bytes));
  const header = new DataView(new ArrayBuffer(127));
  "PMTiles".split("").forEach((c, i) => header.setUint8(i, c.charCodeAt(0)));
  header.setUint8(7, 3);
  let at = 127;
  [root, json, leaf, data].forEach((part, i) => {
    header.setBigUint64(8 + 16 * i, BigInt(at), true);
    header.setBigUint64(16 + 16 * i, BigInt(part.length), true);
    at += part.length;
  });
  for (let i = 0; i < 3; i++) header.setBigUint64(72 + 8 * i, BigInt(tiles.length), true);
  const zooms = tiles.map(({ z }) => z);
  [1, inner, tilePacking, 1, Math.min(...zooms, 14), Math.max(...zooms, 0)].forEach((v, i) =>
    header.setUint8(96 + i, v),
  );
  bounds.forEach((degrees, i) => header.setInt32(102 + 4 * i, Math.round(degrees * 1e7), true));
  for (const [place, value] of Object.entries(want.header ?? {}))
    header.setBigUint64(Number(place), BigInt(value), true);
  return Buffer.concat([new Uint8Array(header.buffer), root, json, leaf, data]);
}
