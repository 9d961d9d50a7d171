/** How the work on a map is cut into blocks of tiles and handed out. */
import { zxyToTileId } from "pmtiles";
import type { Crew } from "./crew.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import type { TileBlock } from "./line-cutter.ts";
import type { Piece, ResultOf } from "./pieces.ts";

/** Blocks of tiles cover ground of at most about this many cells across, and tiles of this many zooms. */
const BLOCK_CELLS = 1300;
export const BLOCK_ZOOMS = 4;
export const TERRAIN_BLOCK_ZOOMS = 2;
/** Metres round the equator of the sphere that web map tiles are drawn on. */
const AROUND_M = 2 * Math.PI * 6_378_137;

/** The zoom whose tiles are taken as blocks. */
export function blockZoom(
  { cellM }: Placement,
  latDeg: number,
  minZoom: number,
  maxZoom: number,
  zooms: number,
): number {
  const fits = Math.ceil(Math.log2((AROUND_M * Math.cos((latDeg * Math.PI) / 180)) / (BLOCK_CELLS * cellM)));
  return Math.max(minZoom, Math.min(maxZoom, Math.max(fits, maxZoom - zooms)));
}

/** Runs pieces on all workers; `took` hears each result as it comes. */
export async function runAll<P extends Piece>(
  crew: Crew,
  pieces: readonly P[],
  took: (result: ResultOf<P>, piece: P) => void,
  step: (done: number) => Promise<void>,
): Promise<void> {
  let next = 0;
  let done = 0;
  const work = async (): Promise<void> => {
    while (next < pieces.length) {
      const piece = pieces[next++]!;
      took(await crew.run(piece), piece);
      await step(++done / pieces.length);
    }
  };
  await Promise.all(Array.from({ length: Math.min(crew.size, pieces.length) }, work));
}

/** Neighbours near one another. */
export const inIdOrder = (block: TileBlock): (readonly [x: number, y: number])[] =>
  tilesIn(block)
    .map((at) => ({ at, id: zxyToTileId(block.zoom, at[0], at[1]) }))
    .sort((a, b) => a.id - b.id)
    .map(({ at }) => at);

export const tilesIn = ({ x0, y0, x1, y1 }: TileBlock): (readonly [x: number, y: number])[] => {
  const tiles: (readonly [number, number])[] = [];
  for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) tiles.push([x, y]);
  return tiles;
};
