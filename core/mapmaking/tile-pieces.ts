/** How the vector tiles of a map are cut into pieces of work, each with the features that meet it. */
import { tileKey } from "./contour-tiles.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import { type FeatureStore, featureStore } from "./feature-store.ts";
import type { KeySet } from "./key-set.ts";
import type { TileBlock } from "./line-cutter.ts";
import { BLOCK_ZOOMS, blockZoom, tilesIn } from "./map-blocks.ts";
import { checkZooms, type Zooms } from "./map-request.ts";
import { blockAt, type FeatureBlocks, type TilesPiece } from "./pieces.ts";
import type { Spool } from "./spool.ts";
import { terrainRange } from "./terrain-tiles-writer.ts";
import { worldBlock } from "./vector-tiles.ts";

/**
 * A place for the features of a map, by its pieces.
 * @throws Fault "bad-argument" for zooms that make no sense
 */
export function featuresFor(placement: Placement, zooms: Zooms, spool: Spool): FeatureStore {
  checkZooms(zooms);
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  return featureStore(blockZoom(placement, latDeg, zooms.min, zooms.max, BLOCK_ZOOMS), zooms, spool);
}

/**
 * Pieces that together are all tiles of the zooms: one of the low zooms, which see the whole model from afar, and one for
 * each block of tiles of the high ones; those that the model lies in, and such as hold features beyond the model.
 */
export function tilePieces(placement: Placement, store: FeatureStore, depressions: KeySet): TilesPiece[] {
  const { topZoom, zooms } = store;
  const model = (zoom: number): TileBlock => terrainRange(placement, zoom);
  const span = (from: number, to: number): number[] =>
    Array.from({ length: to - from + 1 }, (_, k) => from + k);
  const under = (x: number, y: number, each: readonly number[]): TileBlock[] =>
    each.map((zoom) => blockAt({ zoom: each[0]!, x0: x, y0: y, x1: x, y1: y }, zoom, worldBlock(zoom)));
  const pieces: TilesPiece[] = [];
  if (zooms.min < topZoom) {
    const low = span(zooms.min, topZoom - 1);
    const features = [...store.blocks("low").values()].map(({ x, y, chunks }): FeatureBlocks => ({
      chunks,
      blocks: under(x, y, low),
    }));
    pieces.push({ kind: "tiles", blocks: low.map(model), features, low: true, depressions });
  }
  const high = span(topZoom, zooms.max);
  const tops = store.blocks("top");
  const inside = tilesIn(model(topZoom));
  const covered = new Set(inside.map(([x, y]) => tileKey(x, y)));
  const beyond = [...tops.values()].filter(({ x, y }) => !covered.has(tileKey(x, y)));
  for (const [x, y] of [...inside, ...beyond.map((at) => [at.x, at.y] as const)]) {
    const here = under(x, y, high);
    const chunks = tops.get(tileKey(x, y))?.chunks;
    pieces.push({
      kind: "tiles",
      blocks: covered.has(tileKey(x, y))
        ? here.map((block) => blockAt(block, block.zoom, model(block.zoom)))
        : [],
      features: chunks ? [{ chunks, blocks: here }] : [],
      low: false,
      depressions,
    });
  }
  return pieces;
}
