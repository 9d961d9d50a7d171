/** How the vector tiles of a map are cut into pieces of work, each with the features that meet it. */
import { tileKey } from "./contour-tiles.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import type { KeySet } from "./key-set.ts";
import { BUFFER, type TileBlock } from "./line-cutter.ts";
import { BLOCK_ZOOMS, blockZoom, tilesIn } from "./map-blocks.ts";
import type { Zooms } from "./map-request.ts";
import { blockAt, type TilesPiece } from "./pieces.ts";
import { terrainRange } from "./terrain-tiles-writer.ts";
import { boxOf } from "./tile-clip.ts";
import type { TileFeature } from "./tile-feature.ts";
import { EXTENT } from "./vector-tile-layer.ts";
import { worldBlock } from "./vector-tiles.ts";

/**
 * Features by the tile of a zoom that they, or what of them reaches over a tile's edge, may lie in; in the order given.
 * @param features in the units of `maxZoom`
 */
function featuresByTile(
  features: readonly TileFeature[],
  zoom: number,
  maxZoom: number,
): Map<string, TileFeature[]> {
  const by = new Map<string, TileFeature[]>();
  const unit = 2 ** (maxZoom - zoom);
  // One unit more, as positions are rounded anew at each zoom.
  const over = (BUFFER + 1) * unit;
  const tileOf = (v: number): number => Math.min(2 ** zoom - 1, Math.max(0, Math.floor(v / (EXTENT * unit))));
  for (const feature of features) {
    let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const part of feature.parts) {
      const { x0, y0, x1, y1 } = boxOf(part);
      [left, top, right, bottom] = [
        Math.min(left, x0),
        Math.min(top, y0),
        Math.max(right, x1),
        Math.max(bottom, y1),
      ];
    }
    if (left > right) continue;
    for (let x = tileOf(left - over); x <= tileOf(right + over); x++)
      for (let y = tileOf(top - over); y <= tileOf(bottom + over); y++) {
        const key = tileKey(x, y);
        const here = by.get(key);
        if (here) here.push(feature);
        else by.set(key, [feature]);
      }
  }
  return by;
}

/**
 * Pieces that together are all tiles of the zooms: one of the low zooms, which see the whole model from afar, one for
 * each block of tiles that the model lies in, and such as hold features beyond the model.
 */
export function tilePieces(
  placement: Placement,
  { min, max }: Zooms,
  features: readonly TileFeature[],
  depressions: KeySet,
): TilesPiece[] {
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const top = blockZoom(placement, latDeg, min, max, BLOCK_ZOOMS);
  const zooms = (from: number, to: number): number[] =>
    Array.from({ length: to - from + 1 }, (_, k) => from + k);
  const model = (zoom: number): TileBlock => terrainRange(placement, zoom);
  const byTile = featuresByTile(features, top, max);
  const pieces: TilesPiece[] = [];
  if (min < top) {
    const low = zooms(min, top - 1);
    pieces.push({
      kind: "tiles",
      blocks: low.map(model),
      features: features.filter(({ minZoom }) => minZoom < top),
      featureBlocks: low.map(worldBlock),
      low: true,
      depressions,
    });
  }
  const block = (x: number, y: number): TileBlock => ({ zoom: top, x0: x, y0: y, x1: x, y1: y });
  const high = zooms(top, max);
  const under = (x: number, y: number): TileBlock[] =>
    high.map((zoom) => blockAt(block(x, y), zoom, worldBlock(zoom)));
  for (const [x, y] of tilesIn(model(top))) {
    pieces.push({
      kind: "tiles",
      blocks: high.map((zoom) => blockAt(block(x, y), zoom, model(zoom))),
      features: byTile.get(tileKey(x, y)) ?? [],
      featureBlocks: under(x, y),
      low: false,
      depressions,
    });
    byTile.delete(tileKey(x, y));
  }
  for (const [key, beyond] of byTile) {
    const [x, y] = key.split("/").map(Number) as [number, number];
    const featureBlocks = under(x, y);
    pieces.push({ kind: "tiles", blocks: [], features: beyond, featureBlocks, low: false, depressions });
  }
  return pieces;
}
