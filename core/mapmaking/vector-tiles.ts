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
import { ROLES, type Role } from "../map/kinds.ts";
import type { Pace } from "./pace.ts";
import type { PmtilesWriter } from "./pmtiles-writer.ts";
import { simplify } from "./simplify.ts";
import { boxOf, clipLine, twiceArea } from "./tile-clip.ts";
import { clipArea } from "./tile-clip-area.ts";
import { AREA, LINE, POINT, type TileFeature } from "./tile-feature.ts";
import { EXTENT, VectorTileLayer } from "./vector-tile-layer.ts";

/** 64 of 4096 units: half a pixel of stroke at eight times its zoom. */
const BUFFER = 64;
/** How far a line may be thinned below the highest zoom, units: half a pixel of a 512-pixel tile. */
const TOLERANCE = 4;
/** Rings and areas smaller than this across are dropped below the highest zoom, units: one pixel. */
const SMALLEST = 8;

type Tiles = Map<number, Map<Role, VectorTileLayer>>;

/** Tiles of one zoom by x · 2^zoom + y, layers made as they are needed. */
function layerOf(tiles: Tiles, zoom: number, x: number, y: number, role: Role): VectorTileLayer {
  const id = x * 2 ** zoom + y;
  let tile = tiles.get(id);
  if (!tile) tiles.set(id, (tile = new Map()));
  let layer = tile.get(role);
  if (!layer) tile.set(role, (layer = new VectorTileLayer(role)));
  return layer;
}

const firstTile = (least: number): number => Math.floor((least - BUFFER) / EXTENT);
const lastTile = (most: number): number => Math.floor((most + BUFFER) / EXTENT);

/** Cuts a line into the strips of tiles it touches, halving the strips so that a long line is not walked once a tile. */
function spread(line: Int32Array, axis: 0 | 1, visit: (tile: number, part: Int32Array) => void): void {
  const box = boxOf(line);
  const least = axis === 0 ? box.x0 : box.y0;
  const most = axis === 0 ? box.x1 : box.y1;
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
  const from = firstTile(least);
  const to = lastTile(most);
  if (from === to && least >= from * EXTENT - BUFFER && most <= (from + 1) * EXTENT + BUFFER)
    visit(from, line);
  else into(line, from, to);
}

function addLine(tiles: Tiles, zoom: number, feature: TileFeature, line: Int32Array): void {
  spread(line, 0, (x, column) =>
    spread(column, 1, (y, part) => {
      if (outside(zoom, x, y)) return;
      layerOf(tiles, zoom, x, y, feature.role).add(LINE, [part], feature.attributes, x * EXTENT, y * EXTENT);
    }),
  );
}

function addArea(tiles: Tiles, zoom: number, feature: TileFeature, rings: readonly Int32Array[]): void {
  const outer = rings[0];
  if (!outer) return;
  const whole = boxOf(outer);
  for (let x = firstTile(whole.x0); x <= lastTile(whole.x1); x++) {
    const strip = {
      x0: x * EXTENT - BUFFER,
      y0: whole.y0 - 1,
      x1: (x + 1) * EXTENT + BUFFER,
      y1: whole.y1 + 1,
    };
    for (const polygon of clipArea(rings, strip)) {
      const tall = boxOf(polygon[0]!);
      for (let y = firstTile(tall.y0); y <= lastTile(tall.y1); y++) {
        if (outside(zoom, x, y)) continue;
        const pieces = clipArea(polygon, {
          ...strip,
          y0: y * EXTENT - BUFFER,
          y1: (y + 1) * EXTENT + BUFFER,
        });
        if (pieces.length > 0)
          layerOf(tiles, zoom, x, y, feature.role).add(
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
function addPoint(tiles: Tiles, zoom: number, feature: TileFeature, at: Int32Array): void {
  const x = Math.floor(at[0]! / EXTENT);
  const y = Math.floor(at[1]! / EXTENT);
  if (!outside(zoom, x, y))
    layerOf(tiles, zoom, x, y, feature.role).add(POINT, [at], feature.attributes, x * EXTENT, y * EXTENT);
}

const outside = (zoom: number, x: number, y: number): boolean =>
  x < 0 || y < 0 || x >= 2 ** zoom || y >= 2 ** zoom;

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

/**
 * The layers of every tile of zooms `minZoom` to `maxZoom` that has anything in it.
 * @param features in the units of `maxZoom`; areas wound as `wound` does
 * @throws Fault "cancelled"
 */
export async function featureTiles(
  features: readonly TileFeature[],
  { minZoom, maxZoom }: { readonly minZoom: number; readonly maxZoom: number },
  take: (tile: TileLayers) => void,
  pace: Pace,
): Promise<void> {
  const shapes: (readonly Int32Array[])[] = features.map((feature) => feature.parts);
  for (let zoom = maxZoom; zoom >= minZoom; zoom--) {
    const unit = 2 ** (maxZoom - zoom);
    // Half of the work lies in the highest zoom, a quarter in the next …
    const before = zoom === maxZoom ? 0 : 1 - 2 ** (zoom - maxZoom);
    const share = 2 ** (zoom - maxZoom - 1);
    const tiles: Tiles = new Map();
    for (const [k, feature] of features.entries()) {
      if ((k & 63) === 0) await pace.step(before + (share * 0.5 * k) / features.length);
      if (zoom < maxZoom && feature.minZoom <= zoom) shapes[k] = thinned(feature, shapes[k]!, unit);
      else if (feature.minZoom > zoom) shapes[k] = [];
      const parts = shapes[k]!;
      if (parts.length === 0) continue;
      const here = parts.map((part) => scaled(part, unit));
      if (feature.type === AREA) addArea(tiles, zoom, feature, here);
      else for (const part of here) (feature.type === LINE ? addLine : addPoint)(tiles, zoom, feature, part);
    }
    let done = 0;
    for (const [id, layers] of tiles) {
      await pace.step(before + share * (0.5 + (0.5 * done++) / tiles.size));
      const contours = new PbfWriter();
      layers.get("contour")?.writeTo(contours);
      const others = new PbfWriter();
      for (const role of ROLES) if (role !== "contour") layers.get(role)?.writeTo(others);
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
}

/** Writes the tiles of features alone. */
export async function writeVectorTiles(
  features: readonly TileFeature[],
  zooms: { readonly minZoom: number; readonly maxZoom: number },
  writer: PmtilesWriter,
  pace: Pace,
): Promise<void> {
  const write = ({ zoom, x, y, contours, others }: TileLayers): void => {
    const tile = new Uint8Array(contours.length + others.length);
    tile.set(contours);
    tile.set(others, contours.length);
    writer.add(zoom, x, y, tile);
  };
  await featureTiles(features, zooms, write, pace);
}
