/**
 * Tiles of an archive that exists already, taken over into a new one: each checked, vector tiles packed anew.
 * Source of the kinds of tiles: PMTiles specification, version 3, section "Tile Type".
 */
import { zxyToTileId } from "pmtiles";
import { Fault } from "../fault.ts";
import { gunzip } from "../map/unpack.ts";
import { type PictureType, pictureType } from "../map/pictures.ts";
import { tileBbox } from "../map/tile-grid.ts";
import type { Bbox } from "../units/position.ts";
import type { Codecs } from "./codecs.ts";
import type { PmtilesWriter } from "./pmtiles-writer.ts";

export type CopiedType = "mvt" | PictureType;

/** A tile as it was stored; rows are counted from the north. */
export interface StoredTile {
  readonly z: number;
  readonly x: number;
  readonly y: number;
  readonly bytes: Uint8Array;
}

export interface CopyCounts {
  readonly tiles: number;
  /** Tiles without bytes, left out. */
  readonly empty: number;
  /** Around all tiles of the highest zoom, degrees. */
  readonly bounds: Bbox;
  readonly minZoom: number;
  readonly maxZoom: number;
}

export interface CopyOptions {
  readonly signal?: AbortSignal | undefined;
  /** Told after each so many tiles. */
  readonly taken?: ((tiles: number) => void) | undefined;
}

/** Each costs some fifty bytes of memory until the directory is written. No source. */
const MOST_TILES = 8_000_000;
const TOLD_EACH = 500;

const isGzipped = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

/**
 * Takes all tiles over. Vector tiles, gzipped or plain, are packed anew, so that equal ones are equal in bytes.
 * @param name of the archive they come from, for messages
 * @throws Fault "bad-archive" when there are none or too many; "bad-tile" naming a tile that lies outside the pyramid, is
 * there twice, cannot be unpacked, or is not of the archive's type; "cancelled"
 */
export async function copyTiles(
  tiles: AsyncIterable<StoredTile>,
  type: CopiedType,
  name: string,
  writer: PmtilesWriter,
  codecs: Pick<Codecs, "gzip">,
  { signal, taken }: CopyOptions = {},
): Promise<CopyCounts> {
  let count = 0;
  let empty = 0;
  let minZoom = Infinity;
  let maxZoom = -1;
  let extent: [number, number, number, number] = [0, 0, 0, 0];
  for await (const { z, x, y, bytes } of tiles) {
    if (signal?.aborted) throw new Fault("cancelled", "Converting the archive was cancelled.");
    const where = `${name}: tile ${z}/${x}/${y}`;
    if (!isTile(z, x, y))
      throw new Fault("bad-tile", "The archive has a tile that cannot be.", where, "Make the archive anew.");
    if (bytes.length === 0) {
      empty++;
      continue;
    }
    if (++count > MOST_TILES)
      throw new Fault(
        "bad-archive",
        `The archive has more than ${MOST_TILES / 1e6} million tiles, too many for this program.`,
        name,
        "Cut out the area you walk in, or leave out the highest zooms.",
      );
    const packed = typed(bytes, type, where, codecs);
    try {
      writer.addPack({ index: Float64Array.of(zxyToTileId(z, x, y), packed.length), bytes: packed });
    } catch (thrown) {
      if (thrown instanceof Fault && thrown.code === "bad-argument")
        throw new Fault("bad-tile", "The archive has this tile twice.", where, "Make the archive anew.");
      throw thrown;
    }
    minZoom = Math.min(minZoom, z);
    if (z > maxZoom) extent = [x, y, x, y];
    else if (z === maxZoom)
      extent = [
        Math.min(extent[0], x),
        Math.min(extent[1], y),
        Math.max(extent[2], x),
        Math.max(extent[3], y),
      ];
    maxZoom = Math.max(maxZoom, z);
    if (count % TOLD_EACH === 0) taken?.(count);
  }
  if (count === 0) throw new Fault("bad-archive", "The archive holds no tiles.", name, null);
  const [west, , , north] = tileBbox({ z: maxZoom, x: extent[0], y: extent[1] });
  const [, south, east] = tileBbox({ z: maxZoom, x: extent[2], y: extent[3] });
  return { tiles: count, empty, minZoom, maxZoom, bounds: [west, south, east, north] };
}

function isTile(z: number, x: number, y: number): boolean {
  const inside = (v: number): boolean => Number.isInteger(v) && v >= 0 && v < 2 ** z;
  return Number.isInteger(z) && z >= 0 && z <= 26 && inside(x) && inside(y);
}

/** The tile as it is stored, when it is what the archive is said to hold. Pictures of several kinds may stand together. */
function typed(bytes: Uint8Array, type: CopiedType, where: string, codecs: Pick<Codecs, "gzip">): Uint8Array {
  const plain = isGzipped(bytes) ? unpacked(bytes, where) : bytes;
  const isPicture = pictureType(plain) !== null;
  if (isPicture !== (type !== "mvt"))
    throw new Fault(
      "bad-tile",
      isPicture ? "A tile is a picture where vector tiles are said to be." : "A tile is not a picture.",
      where,
      "Make the archive anew.",
    );
  return type === "mvt" ? codecs.gzip(plain) : plain;
}

function unpacked(bytes: Uint8Array, where: string): Uint8Array {
  try {
    return gunzip(bytes);
  } catch (thrown) {
    throw new Fault("bad-tile", Fault.from(thrown).what, where, "Copy the file again or make it anew.");
  }
}
