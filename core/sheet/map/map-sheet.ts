/** The map's features on one sheet's paper: projected, thinned, cut at the neat line. */
import { clipRing } from "../../map/clip-ring.ts";
import type { AreaFeature, LineFeature, MapFeatures, PointFeature } from "../../map/features.ts";
import type { Kind } from "../../map/kinds.ts";
import type { SheetFrame } from "../frame/sheet-frame.ts";
import { clipPolyline } from "../furniture/clip-paper.ts";
import type { PaperPoint, Rect } from "../page/page.ts";

export interface PaperLine {
  readonly feature: LineFeature;
  /** Pieces within the neat line, at least two positions each, in the line's own direction. */
  readonly parts: readonly Float64Array[];
}

export interface PaperArea {
  readonly feature: AreaFeature;
  /** Rings within the neat line, first position not repeated; even-odd. */
  readonly rings: readonly Float64Array[];
}

export interface PaperSpot {
  readonly feature: PointFeature;
  readonly at: PaperPoint;
}

export interface MapSheet {
  readonly frame: SheetFrame;
  readonly lines: (kind: Kind) => readonly PaperLine[];
  readonly areas: (kind: Kind) => readonly PaperArea[];
  readonly spots: (kind: Kind) => readonly PaperSpot[];
}

/** Positions nearer than this to the one before say nothing in print, millimetres. */
const THIN_MM = 0.05;

export function mapSheet(ground: MapFeatures, frame: SheetFrame): MapSheet {
  const lines = byKind(ground.lines(frame.bbox), (feature): PaperLine | null => {
    const parts = clipped(thinned(frame.lineToPaper(feature.coords)), frame.map);
    return parts.length > 0 ? { feature, parts } : null;
  });
  const areas = byKind(ground.areas(frame.bbox), (feature): PaperArea | null => {
    const rings = feature.rings
      .map((ring) => clippedRing(frame.lineToPaper(ring), frame.map))
      .filter((ring) => ring.length > 0);
    return rings.length > 0 ? { feature, rings } : null;
  });
  const spots = byKind(ground.points(frame.bbox), (feature): PaperSpot | null => {
    const at = frame.toPaper(feature.lonLat);
    return isWithin(at, frame.map) ? { feature, at } : null;
  });
  return {
    frame,
    lines: (kind) => lines.get(kind) ?? [],
    areas: (kind) => areas.get(kind) ?? [],
    spots: (kind) => spots.get(kind) ?? [],
  };
}

function byKind<F extends { readonly kind: Kind }, P>(
  features: readonly F[],
  onPaper: (feature: F) => P | null,
): Map<Kind, P[]> {
  const kinds = new Map<Kind, P[]>();
  for (const feature of features) {
    const placed = onPaper(feature);
    if (placed === null) continue;
    const list = kinds.get(feature.kind);
    if (list) list.push(placed);
    else kinds.set(feature.kind, [placed]);
  }
  return kinds;
}

export const isWithin = ([x, y]: PaperPoint, r: Rect): boolean =>
  x >= r.x && x <= r.x + r.width && y >= r.y && y <= r.y + r.height;

/** Keeps both ends. */
function thinned(line: Float64Array): Float64Array {
  let kept = 2;
  const last = line.length - 2;
  for (let i = 2; i < last; i += 2) {
    const dx = (line[i] as number) - (line[kept - 2] as number);
    const dy = (line[i + 1] as number) - (line[kept - 1] as number);
    if (dx * dx + dy * dy < THIN_MM * THIN_MM) continue;
    line[kept++] = line[i] as number;
    line[kept++] = line[i + 1] as number;
  }
  line[kept++] = line[last] as number;
  line[kept++] = line[last + 1] as number;
  return line.subarray(0, kept);
}

/** 1 all within, −1 all to one side, 0 to be cut. */
function lies(line: Float64Array, r: Rect): number {
  let [west, north, east, south] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < line.length; i += 2) {
    const [x, y] = [line[i] as number, line[i + 1] as number];
    if (x < west) west = x;
    if (x > east) east = x;
    if (y < north) north = y;
    if (y > south) south = y;
  }
  if (east < r.x || west > r.x + r.width || south < r.y || north > r.y + r.height) return -1;
  return west >= r.x && east <= r.x + r.width && north >= r.y && south <= r.y + r.height ? 1 : 0;
}

function clipped(line: Float64Array, map: Rect): readonly Float64Array[] {
  const where = lies(line, map);
  if (where < 0) return [];
  return where > 0 ? [line] : clipPolyline(line, map);
}

function clippedRing(ring: Float64Array, map: Rect): Float64Array {
  const where = lies(ring, map);
  if (where < 0 || ring.length < 8) return new Float64Array(0);
  if (where > 0) return ring.subarray(0, ring.length - 2);
  return cutRing(ring, map);
}

/** @param ring first position repeated at the end; it is not in what is returned */
export function cutRing(ring: Float64Array, map: Rect): Float64Array {
  const vertices = Array.from({ length: ring.length / 2 }, (_, i) => ({
    x: ring[2 * i] as number,
    y: ring[2 * i + 1] as number,
  }));
  const window = { x0: map.x, y0: map.y, x1: map.x + map.width, y1: map.y + map.height };
  return Float64Array.from(clipRing(vertices, window).slice(0, -2));
}
