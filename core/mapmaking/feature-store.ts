/**
 * The features of a map on their way from its files to its tiles. A country has millions: they wait in a spool, in
 * chunks by the block of tiles they are for, and only what such a piece of work reads is ever in memory.
 */
import { FeatureEncoder, featuresIn, recordElsewhere } from "./feature-bytes.ts";
import { GrowingBytes } from "./growing-bytes.ts";
import { BUFFER } from "./line-cutter.ts";
import type { Zooms } from "./map-request.ts";
import type { Spool, SpoolReader } from "./spool.ts";
import { boxOf } from "./tile-clip.ts";
import type { TileFeature, TileLayerName } from "./tile-feature.ts";
import { EXTENT } from "./vector-tile-layer.ts";

/** Where features lie in the spool: offset, bytes, offset, bytes …, in the order they were given. */
export type FeatureChunks = Float64Array;

/** Fields of a layer, as TileJSON names their kinds. */
export type Fields = Record<string, string>;

export interface FeatureStore {
  /** Lowest zoom of the blocks that go down to the highest; those of lower zooms are tiles of the map's lowest. */
  readonly topZoom: number;
  readonly zooms: Zooms;
  /** How many there are of each layer, and what is told of them. */
  readonly layers: ReadonlyMap<TileLayerName, { count: number; readonly fields: Fields }>;
  /** @param feature in the units of the highest zoom, fit for tiles */
  add(feature: TileFeature): void;
  /** Adds what `featuresIn` reads. */
  addRecords(records: Uint8Array): void;
  /** Features that may lie in tiles of blocks, by the block's tile; what was added is readable from then on. */
  blocks(
    of: "top" | "low",
  ): ReadonlyMap<string, { readonly x: number; readonly y: number; readonly chunks: FeatureChunks }>;
  /** Features of which others like them could be worked out from the terrain. */
  known(): FeatureChunks;
}

/** Roles of what can be worked out from the terrain, and peaks, which such heights keep away from. */
const KNOWN: ReadonlySet<TileLayerName> = new Set([
  "stream",
  "ridge",
  "valley",
  "spotHeight",
  "cliff",
  "peak",
]);
/** Bytes that wait in memory for their chunks to grow. */
const GATHER_BYTES = 1 << 23;
/** A record this large that is in several blocks lies in the spool once. */
const LARGE_BYTES = 1 << 12;

interface Bucket {
  readonly x: number;
  readonly y: number;
  readonly chunks: number[];
  readonly waiting: GrowingBytes;
}
const bucketAt = (x: number, y: number): Bucket => ({ x, y, chunks: [], waiting: new GrowingBytes() });

/** @param topZoom as in `FeatureStore` */
export function featureStore(topZoom: number, zooms: Zooms, spool: Spool): FeatureStore {
  const { min, max } = zooms;
  const encoder = new FeatureEncoder();
  const layers = new Map<TileLayerName, { count: number; readonly fields: Fields }>();
  const top = new Map<string, Bucket>();
  const low = new Map<string, Bucket>();
  const known = bucketAt(0, 0);
  let waiting = 0;

  const writeOut = (bucket: Bucket): void => {
    if (bucket.waiting.length === 0) return;
    const bytes = bucket.waiting.view().slice();
    bucket.chunks.push(spool.append(bytes), bytes.length);
    bucket.waiting.clear();
  };
  const writeOutAll = (): void => {
    for (const bucket of [...top.values(), ...low.values(), known]) writeOut(bucket);
    waiting = 0;
    spool.flush();
  };
  const tell = ({ role, attributes }: TileFeature): void => {
    let layer = layers.get(role);
    if (!layer) layers.set(role, (layer = { count: 0, fields: {} }));
    layer.count++;
    for (const key in attributes) {
      const value = attributes[key];
      layer.fields[key] =
        typeof value === "number" ? "Number" : typeof value === "boolean" ? "Boolean" : "String";
    }
  };
  const add = (feature: TileFeature): void => {
    tell(feature);
    const box = boxOfParts(feature.parts);
    if (!box) return;
    const buckets = bucketsUnder(top, box, topZoom, max);
    if (feature.minZoom < topZoom) buckets.push(...bucketsUnder(low, box, min, max));
    if (KNOWN.has(feature.role)) buckets.push(known);
    const record = encoder.encode(feature);
    const bytes =
      buckets.length > 1 && record.length >= LARGE_BYTES
        ? recordElsewhere(spool.append(record.slice()), record.length)
        : record;
    for (const bucket of buckets) {
      bucket.waiting.append(bytes);
      waiting += bytes.length;
    }
    if (waiting >= GATHER_BYTES) writeOutAll();
  };

  return {
    topZoom,
    zooms,
    layers,
    add,
    addRecords(records) {
      for (const feature of featuresIn(records, spool)) add(feature);
    },
    blocks(of) {
      writeOutAll();
      const all = [...(of === "top" ? top : low)];
      return new Map(
        all.map(([key, { x, y, chunks }]) => [key, { x, y, chunks: Float64Array.from(chunks) }]),
      );
    },
    known() {
      writeOutAll();
      return Float64Array.from(known.chunks);
    },
  };
}

/** The features of some chunks, in order; each is good until the next. */
export function* featuresOf(chunks: FeatureChunks, spool: SpoolReader): Generator<TileFeature> {
  for (let i = 0; i < chunks.length; i += 2) yield* featuresIn(spool.read(chunks[i]!, chunks[i + 1]!), spool);
}

type UnitBox = readonly [left: number, top: number, right: number, bottom: number];

function boxOfParts(parts: readonly Int32Array[]): UnitBox | null {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const part of parts) {
    const { x0, y0, x1, y1 } = boxOf(part);
    left = Math.min(left, x0);
    top = Math.min(top, y0);
    right = Math.max(right, x1);
    bottom = Math.max(bottom, y1);
  }
  return left > right ? null : [left, top, right, bottom];
}

/** Those of the tiles of a zoom that a feature, or what of it reaches over a tile's edge, may lie in. */
function bucketsUnder(
  all: Map<string, Bucket>,
  [left, top, right, bottom]: UnitBox,
  zoom: number,
  maxZoom: number,
): Bucket[] {
  const unit = 2 ** (maxZoom - zoom);
  // One unit more, as positions are rounded anew at each zoom.
  const over = (BUFFER + 1) * unit;
  const tileOf = (v: number): number => Math.min(2 ** zoom - 1, Math.max(0, Math.floor(v / (EXTENT * unit))));
  const found: Bucket[] = [];
  for (let x = tileOf(left - over); x <= tileOf(right + over); x++)
    for (let y = tileOf(top - over); y <= tileOf(bottom + over); y++) {
      const key = `${x}/${y}`;
      let bucket = all.get(key);
      if (!bucket) all.set(key, (bucket = bucketAt(x, y)));
      found.push(bucket);
    }
  return found;
}
