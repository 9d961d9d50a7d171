/**
 * Making a map in pieces: each needs only what all share, which is told once, and a little of its own, so that any
 * number of workers can take the next one. What a piece gives does not depend on which worker did it, or when.
 */
import { VectorTile } from "@mapbox/vector-tile";
import { PbfReader, PbfWriter } from "pbf";
import type { Codecs } from "./codecs.ts";
import { type ContourMap, contourTiles, type OwnLayers, tileKey } from "./contour-tiles.ts";
import { halvingsAt } from "./contour-levels.ts";
import { type BandScan, depressionsOf, scanBand } from "./depressions.ts";
import { dataEdge } from "./data-edge.ts";
import { type Derive, derivedFeatures } from "./derived-features.ts";
import { type Placement, placeGrid } from "./elevation/grid-placement.ts";
import { GrowingBytes } from "./growing-bytes.ts";
import { FeatureEncoder } from "./feature-bytes.ts";
import { type FeatureChunks, featuresOf } from "./feature-store.ts";
import { type Frame, gridSource, type HeightSource } from "./height-source.ts";
import { wholeHalved } from "./height-survey.ts";
import { type Interval, metresPer } from "./interval.ts";
import type { KeySet } from "./key-set.ts";
import type { TileBlock } from "./line-cutter.ts";
import { pace } from "./pace.ts";
import { terrainBlock } from "./terrain-tiles-writer.ts";
import type { TerrainPlan } from "./terrain-zoom.ts";
import type { SpoolReader } from "./spool.ts";
import { type FinishedTile, packTiles, type TilePack } from "./tile-pack.ts";
import { VectorTileLayer } from "./vector-tile-layer.ts";
import { featureTiles, type TileLayers } from "./vector-tiles.ts";

/** What all pieces share; plain, so that it can be sent to workers. */
export interface Setup {
  readonly frame: Frame;
  readonly interval: Interval;
  readonly maxZoom: number;
  readonly terrain: TerrainPlan;
}

export interface ScanPiece {
  readonly kind: "scan";
  readonly row: number;
  readonly rows: number;
  /** As in `scanBand`. */
  readonly asked: KeySet | null;
}
export interface DerivePiece {
  readonly kind: "derive";
  readonly derive: Derive;
  /** Features of such roles that are given. */
  readonly known: FeatureChunks;
}
export interface TerrainPiece {
  readonly kind: "terrain";
  readonly zoom: number;
  readonly x: number;
  readonly y: number;
}
/** Features that meet the tiles of blocks, one block a zoom, each covering the same ground. */
export interface FeatureBlocks {
  readonly chunks: FeatureChunks;
  readonly blocks: readonly TileBlock[];
}
export interface TilesPiece {
  readonly kind: "tiles";
  /** The same ground at each zoom, as far as the model reaches. */
  readonly blocks: readonly TileBlock[];
  /** What goes into the tiles beside the contours; each tile is in the blocks of one only. */
  readonly features: readonly FeatureBlocks[];
  /** Low zooms that cover much ground: drawn from the whole model, halved, and not from the part under the block. */
  readonly low: boolean;
  /** As `depressionsOf` takes it. */
  readonly depressions: KeySet;
}
export type Piece = ScanPiece | DerivePiece | TerrainPiece | TilesPiece;

export interface Results {
  readonly scan: BandScan;
  /** As `featuresIn` reads them. */
  readonly derive: { readonly records: Uint8Array };
  readonly terrain: { readonly pack: TilePack; readonly half: Float32Array | null };
  readonly tiles: { readonly pack: TilePack };
}
export type ResultOf<P extends Piece> = Results[P["kind"]];

/** Streams and ridges of models with more samples than this are worked out from a model halved until it has fewer. */
const MOST_DERIVED = 1.6e7;

/** Everything a worker needs. */
export interface Kit {
  readonly setup: Setup;
  readonly source: HeightSource;
  /** Where the features lie that pieces name. */
  readonly features: SpoolReader;
  readonly placement: Placement;
  readonly codecs: Codecs;
}

export const kitOf = (setup: Setup, source: HeightSource, features: SpoolReader, codecs: Codecs): Kit => ({
  setup,
  source,
  features,
  placement: placeGrid(setup.frame),
  codecs,
});

/** @param told hears which share of a long piece is done */
export async function runPiece(
  kit: Kit,
  piece: Piece,
  told?: (done: number) => void,
): Promise<Results[keyof Results]> {
  const { setup, source, placement, codecs } = kit;
  switch (piece.kind) {
    case "scan": {
      const { interval, frame } = setup;
      const { row, rows, asked } = piece;
      const band = source.window({ column: 0, row, columns: frame.columns, rows });
      return scanBand(band, interval.value * metresPer(interval.unit), frame, asked);
    }
    case "derive":
      return await derive(kit, piece, told);
    case "terrain": {
      const { tiles, half } = terrainBlock(source, placement, setup.terrain, piece, codecs);
      return { pack: packTiles(tiles), half };
    }
    case "tiles":
      return { pack: tilesOf(kit, piece) };
  }
}

async function derive(
  { setup, source, features }: Kit,
  { derive: wanted, known }: DerivePiece,
  told?: (done: number) => void,
): Promise<Results["derive"]> {
  const { frame, interval, maxZoom } = setup;
  let halvings = 0;
  while ((frame.columns * frame.rows) / 4 ** halvings > MOST_DERIVED) halvings++;
  const { columns, rows, heights } = wholeHalved(source, halvings);
  const step = [frame.step[0] * 2 ** halvings, frame.step[1] * 2 ** halvings] as const;
  const grid = { ...frame, columns, rows, step, heights };
  const encoder = new FeatureEncoder();
  const records = new GrowingBytes();
  const going = pace(told ? { progress: ({ done }) => told(done) } : {});
  going.stage("", 1);
  await derivedFeatures(
    grid,
    placeGrid(grid),
    { interval, derive: wanted, maxZoom, known: () => featuresOf(known, features) },
    (feature) => records.append(encoder.encode(feature)),
    going,
  );
  return { records: records.view().slice() };
}

function tilesOf({ setup, source, features, placement, codecs }: Kit, piece: TilesPiece): TilePack {
  const { interval, maxZoom } = setup;
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const map: ContourMap = {
    interval,
    maxZoom,
    latDeg,
    depressions: depressionsOf(piece.depressions, setup.frame),
  };
  const highest = piece.blocks.reduce((most, { zoom }) => Math.max(most, zoom), 0);
  const halvings = halvingsAt(highest, placement.cellM, latDeg);
  const coarse = piece.low && halvings > 0 ? wholeHalved(source, halvings) : null;
  const ground = {
    source: coarse ? gridSource({ ...setup.frame, ...coarse }) : source,
    placement,
    halvings: coarse ? halvings : 0,
  };
  const found = contourTiles(piece.blocks, ground, map);
  const edges = new Map<string, { readonly at: TilePlace; readonly layer: VectorTileLayer }>();
  for (const block of piece.blocks)
    dataEdge(block, setup.frame, placement, (x, y, layer) => {
      const at = { zoom: block.zoom, x, y };
      edges.set(placeKey(at), { at, layer });
    });
  const tiles: FinishedTile[] = [];
  const done = new Set<string>();
  const finish = (at: TilePlace, given: TileLayers | undefined): void => {
    const key = placeKey(at);
    if (done.has(key)) return;
    done.add(key);
    const own = found.get(at.zoom)?.get(tileKey(at.x, at.y));
    const bytes = tileBytes(own, given, edges.get(key)?.layer);
    if (bytes.length > 0) tiles.push({ zoom: at.zoom, x: at.x, y: at.y, bytes: codecs.gzip(bytes) });
  };
  // Blocks of features one after the other, their tiles packed at once: at low zooms they are a whole country's.
  for (const { chunks, blocks } of piece.features)
    featureTiles(featuresOf(chunks, features), { maxZoom, blocks }, (tile) => finish(tile, tile));
  for (const [zoom, layers] of found)
    for (const key of layers.keys()) {
      const [x, y] = key.split("/").map(Number) as [number, number];
      finish({ zoom, x, y }, undefined);
    }
  for (const { at } of edges.values()) finish(at, undefined);
  return packTiles(tiles);
}

type TilePlace = Pick<FinishedTile, "zoom" | "x" | "y">;
const placeKey = ({ zoom, x, y }: TilePlace): string => `${zoom}/${tileKey(x, y)}`;

/** A tile of the map's own layers and those given, which go between them as they are. */
function tileBytes(
  own: OwnLayers | undefined,
  given: TileLayers | undefined,
  edge: VectorTileLayer | undefined,
): Uint8Array {
  const contours = own?.contours ?? new VectorTileLayer("contour");
  if (given && given.contours.length > 0) addLayer(contours, given.contours);
  const bytes = new GrowingBytes();
  const write = (layer: VectorTileLayer | undefined): void => {
    const out = new PbfWriter();
    layer?.writeTo(out);
    bytes.append(out.finish());
  };
  write(contours);
  if (given) bytes.append(given.others);
  write(own?.labels);
  write(edge);
  return bytes.view().slice();
}

/** Adds the features of a layer's bytes: a tile may not have two layers of one name. */
function addLayer(into: VectorTileLayer, bytes: Uint8Array): void {
  const layer = new VectorTile(new PbfReader(bytes)).layers["contour"];
  if (!layer) return;
  for (let i = 0; i < layer.length; i++) {
    const feature = layer.feature(i);
    const parts = feature.loadGeometry().map((part) => Int32Array.from(part.flatMap(({ x, y }) => [x, y])));
    if (feature.type !== 0) into.add(feature.type, parts, feature.properties, 0, 0);
  }
}

/** The tiles of a block at another zoom, no more than the ground a map covers. */
export function blockAt({ zoom, x0, y0, x1, y1 }: TileBlock, at: number, most: TileBlock): TileBlock {
  const by = 2 ** (at - zoom);
  return {
    zoom: at,
    x0: Math.max(most.x0, x0 * by),
    y0: Math.max(most.y0, y0 * by),
    x1: Math.min(most.x1, (x1 + 1) * by - 1),
    y1: Math.min(most.y1, (y1 + 1) * by - 1),
  };
}
