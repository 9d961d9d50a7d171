/** Finished tiles on their way from the worker that made them to the archive: one array of bytes for all. */
import { zxyToTileId } from "pmtiles";

export interface TilePack {
  /** Tile id and length in bytes of each, ids rising. */
  readonly index: Float64Array;
  readonly bytes: Uint8Array;
}

export interface FinishedTile {
  readonly zoom: number;
  readonly x: number;
  readonly y: number;
  readonly bytes: Uint8Array;
}

export function packTiles(tiles: readonly FinishedTile[]): TilePack {
  const inOrder = tiles
    .map(({ zoom, x, y, bytes }) => ({ id: zxyToTileId(zoom, x, y), bytes }))
    .sort((a, b) => a.id - b.id);
  const index = new Float64Array(2 * inOrder.length);
  const bytes = new Uint8Array(inOrder.reduce((sum, tile) => sum + tile.bytes.length, 0));
  let at = 0;
  for (const [i, tile] of inOrder.entries()) {
    index[2 * i] = tile.id;
    index[2 * i + 1] = tile.bytes.length;
    bytes.set(tile.bytes, at);
    at += tile.bytes.length;
  }
  return { index, bytes };
}
