/**
 * Features into the vector tiles of every zoom.
 *
 * Geometry is rounded once to the units of the highest zoom, thinned from zoom to zoom as a whole, and only then cut
 * into tiles: both sides of a tile's edge come from the same line, so they match. Nothing is thinned at the highest
 * zoom. Lines and areas reach `BUFFER` units over their tile's edge, so that strokes do not end in sight.
 *
 * Own code instead of a library because of time and memory: 1.17 million vertices of contours, zooms 8 to 14, took
 * 1.4 s and 194 MB at most here, 3.8 s and 677 MB with @maplibre/geojson-vt 6.3 and @maplibre/vt-pbf 4.3; 6.2 million
 * vertices of a 3601 × 3601 model took 6.3 s and 360 MB (processor time and peak memory, one run each, compression
 * included).
 */
import { PbfWriter } from "pbf";
import { ROLES } from "../map/kinds.ts";
import type { PmtilesWriter } from "./pmtiles-writer.ts";
import { simplify } from "./simplify.ts";
import { boxOf, clipLine, twiceArea } from "./tile-clip.ts";
import { clipArea } from "./tile-clip-area.ts";
import { AREA, FILLED, LINE, POINT, type TileFeature, type TileLayerName } from "./tile-feature.ts";
import type { TileBlock } from "./line-cutter.ts";
import { EXTENT, VectorTileLayer } from "./vector-tile-layer.ts";

/** 64 of 4096 units: half a pixel of stroke at eight times its zoom. */
const BUFFER = 64;
/** How far a line may be thinned below the highest zoom, units: half a pixel of a 512-pixel tile. */
const TOLERANCE = 4;
/** Rings and areas smaller than this across are dropped below the highest zoom, units: one pixel. */
const SMALLEST = 8;

/** Tiles of one zoom that are in the making: those of a block, or all. */
interface Making {
  readonly block: TileBlock;
  readonly tiles: Map<number, Map<TileLayerName, VectorTileLayer>>;
}

/** Layers of tiles by x · 2^zoom + y, made as they are needed. */
function layerOf({ tiles, block }: Making, x: number, y: number, role: TileLayerName): VectorTileLayer {
  const id = x * 2 ** block.zoom + y;
  let tile = tiles.get(id);
  if (!tile) tiles.set(id, (tile = new Map()));
  let layer = tile.get(role);
  if (!layer) tile.set(role, (layer = new VectorTileLayer(role)));
  return layer;
}

const firstTile = (least: number): number => Math.floor((least - BUFFER) / EXTENT);
const lastTile = (most: number): number => Math.floor((most + BUFFER) / EXTENT);

/** Cuts a line into the strips of tiles it touches, halving the strips so that a long line is not walked once a tile. */
function spread(
  line: Int32Array,
  axis: 0 | 1,
  block: TileBlock,
  visit: (tile: number, part: Int32Array) => void,
): void {
  const box = boxOf(line);
  const [least, most] = axis === 0 ? [box.x0, box.x1] : [box.y0, box.y1];
  const into = (part: Int32Array, from: number, to: number): void => {
    const parts: Int32Array[] = [];
    clipLine(part, axis, from * EXTENT - BUFFER, (to + 1) * EXTENT + BUFFER, parts);
    for (const piece of parts)
      if (from === to) visit(from, piece);
      else {
        const middle = (from + to) >> 1;
        into(piece, from, middle);
        into(piece, middle + 1, to);
      }
  };
  const from = Math.max(firstTile(least), axis === 0 ? block.x0 : block.y0);
  const to = Math.min(lastTile(most), axis === 0 ? block.x1 : block.y1);
  if (from > to) return;
  if (from === to && least >= from * EXTENT - BUFFER && most <= (from + 1) * EXTENT + BUFFER)
    visit(from, line);
  else into(line, from, to);
}

function addLine(making: Making, feature: TileFeature, line: Int32Array): void {
  spread(line, 0, making.block, (x, column) =>
    spread(column, 1, making.block, (y, part) =>
      layerOf(making, x, y, feature.role).add(LINE, [part], feature.attributes, x * EXTENT, y * EXTENT),
    ),
  );
}

function addArea(making: Making, feature: TileFeature, rings: readonly Int32Array[]): void {
  const outer = rings[0];
  if (!outer) return;
  const { block } = making;
  const whole = boxOf(outer);
  const last = Math.min(lastTile(whole.x1), block.x1);
  for (let x = Math.max(firstTile(whole.x0), block.x0); x <= last; x++) {
    const strip = {
      x0: x * EXTENT - BUFFER,
      y0: whole.y0 - 1,
      x1: (x + 1) * EXTENT + BUFFER,
      y1: whole.y1 + 1,
    };
    for (const polygon of clipArea(rings, strip)) {
      const tall = boxOf(polygon[0]!);
      const lowest = Math.min(lastTile(tall.y1), block.y1);
      for (let y = Math.max(firstTile(tall.y0), block.y0); y <= lowest; y++) {
        const pieces = clipArea(polygon, {
          ...strip,
          y0: y * EXTENT - BUFFER,
          y1: (y + 1) * EXTENT + BUFFER,
        });
        if (pieces.length > 0)
          layerOf(making, x, y, feature.role).add(
            AREA,
            pieces.flat(),
            feature.attributes,
            x * EXTENT,
            y * EXTENT,
          );
      }
    }
  }
}

/** Points go to the one tile they lie in: repeated in a neighbour's buffer they would be labelled twice. */
function addPoint(making: Making, feature: TileFeature, at: Int32Array): void {
  const x = Math.floor(at[0]! / EXTENT);
  const y = Math.floor(at[1]! / EXTENT);
  const { x0, y0, x1, y1 } = making.block;
  if (x >= x0 && x <= x1 && y >= y0 && y <= y1)
    layerOf(making, x, y, feature.role).add(POINT, [at], feature.attributes, x * EXTENT, y * EXTENT);
}

function scaled(coords: Int32Array, down: number): Int32Array {
  if (down === 1) return coords;
  const out = new Int32Array(coords.length);
  for (let i = 0; i < coords.length; i++) out[i] = Math.round(coords[i]! / down);
  return out;
}

/** Winds rings as the specification wants them: the outer one clockwise on the screen, holes the other way. */
export function wound(rings: readonly Int32Array[]): Int32Array[] {
  return rings.map((ring, k) => {
    if (twiceArea(ring) > 0 === (k === 0)) return ring;
    const turned = new Int32Array(ring.length);
    for (let i = 0; i < ring.length; i += 2) {
      turned[i] = ring[ring.length - 2 - i]!;
      turned[i + 1] = ring[ring.length - 1 - i]!;
    }
    return turned;
  });
}

/** Thinner geometry for the next zoom out; empty when the feature is too small to be seen there. */
function thinned(feature: TileFeature, parts: readonly Int32Array[], unit: number): readonly Int32Array[] {
  if (feature.type === POINT) return parts;
  const kept: Int32Array[] = [];
  for (const [k, part] of parts.entries()) {
    const { x0, y0, x1, y1 } = boxOf(part);
    const closed = feature.type === AREA || (part[0] === part.at(-2) && part[1] === part.at(-1));
    const small = closed && Math.max(x1 - x0, y1 - y0) < SMALLEST * unit;
    const thin = small ? null : simplify(part, TOLERANCE * unit);
    if (thin && thin.length >= 4) kept.push(thin);
    else if (feature.type === AREA && k === 0) return [];
  }
  return kept;
}

/** Layers of one tile, as bytes that follow one another in it. */
export interface TileLayers {
  readonly zoom: number;
  readonly x: number;
  readonly y: number;
  /** The layer of contours by itself: others may have to go into it. */
  readonly contours: Uint8Array;
  readonly others: Uint8Array;
}

/** Which tiles of features are wanted. */
export interface WantedTiles {
  /** Whose units features are in; nothing is thinned there. */
  readonly maxZoom: number;
  /** Of these zooms only the tiles of a block each; features in no tile of it may be given. */
  readonly blocks: readonly TileBlock[];
}

/** All tiles of a zoom. */
export const worldBlock = (zoom: number): TileBlock => ({
  zoom,
  x0: 0,
  y0: 0,
  x1: 2 ** zoom - 1,
  y1: 2 ** zoom - 1,
});

/**
 * The layers of every tile wanted that has anything in it. What is in a tile does not depend on which others are wanted.
 * Features are taken one after another and never looked at again: of many millions only their tiles are held.
 * @param features in the units of `maxZoom`; areas wound as `wound` does
 */
export function featureTiles(
  features: Iterable<TileFeature>,
  { maxZoom, blocks }: WantedTiles,
  take: (tile: TileLayers) => void,
): void {
  const minZoom = blocks.reduce((least, { zoom }) => Math.min(least, zoom), maxZoom);
  const makings = new Map(blocks.map((block): [number, Making] => [block.zoom, { block, tiles: new Map() }]));
  for (const feature of features) {
    let { parts } = feature;
    for (let zoom = maxZoom; zoom >= Math.max(minZoom, feature.minZoom); zoom--) {
      const unit = 2 ** (maxZoom - zoom);
      if (zoom < maxZoom) parts = thinned(feature, parts, unit);
      if (parts.length === 0) break;
      const making = makings.get(zoom);
      if (making) draw(making, feature, parts, unit);
    }
  }
  for (const [zoom, { tiles }] of makings)
    for (const [id, layers] of tiles) {
      const contours = new PbfWriter();
      layers.get("contour")?.writeTo(contours);
      const others = new PbfWriter();
      for (const role of [...ROLES, FILLED] as const)
        if (role !== "contour") layers.get(role)?.writeTo(others);
      tiles.set(id, new Map());
      if (contours.pos + others.pos === 0) continue;
      take({
        zoom,
        x: Math.floor(id / 2 ** zoom),
        y: id % 2 ** zoom,
        contours: contours.finish().slice(),
        others: others.finish().slice(),
      });
    }
}

function draw(making: Making, feature: TileFeature, parts: readonly Int32Array[], unit: number): void {
  const here = parts.map((part) => scaled(part, unit));
  if (feature.type === AREA) addArea(making, feature, here);
  else for (const part of here) (feature.type === LINE ? addLine : addPoint)(making, feature, part);
}

/** Writes the tiles of features alone. */
export function writeVectorTiles(
  features: readonly TileFeature[],
  zooms: { readonly minZoom: number; readonly maxZoom: number },
  writer: PmtilesWriter,
): void {
  const write = ({ zoom, x, y, contours, others }: TileLayers): void => {
    const tile = new Uint8Array(contours.length + others.length);
    tile.set(contours);
    tile.set(others, contours.length);
    writer.add(zoom, x, y, tile);
  };
  const { minZoom, maxZoom } = zooms;
  const blocks = Array.from({ length: maxZoom - minZoom + 1 }, (_, k) => worldBlock(minZoom + k));
  featureTiles(features, { maxZoom, blocks }, write);
}
