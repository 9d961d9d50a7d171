/** Contours of a block of tiles, at all its zooms, straight from the model's heights. */
import type { Attributes } from "../map/features.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import { latOf, lonOf } from "./elevation/grid-placement.ts";
import { drawnEvery, halvingsAt, levelAttributes } from "./contour-levels.ts";
import { contourLabels } from "./contour-labels.ts";
import { edgeDrops, MESH, settled, smooth, thin } from "./contour-shape.ts";
import { keptContours } from "./contours.ts";
import type { Depressions } from "./depressions.ts";
import { halvedBy, type HeightSource, type HeightWindow, within } from "./height-source.ts";
import { type Interval, metresPer } from "./interval.ts";
import { BUFFER, LineCutter, type TileBlock } from "./line-cutter.ts";
import { POINT } from "./tile-feature.ts";
import { EXTENT, VectorTileLayer } from "./vector-tile-layer.ts";

/** How far a contour may be thinned below the highest zoom, units: half a pixel of a 512-pixel tile. */
const TOLERANCE = 4;
/** Rings smaller than this across are dropped below the highest zoom, units: one pixel. */
const SMALLEST = 8;

export interface ContourGround {
  readonly source: HeightSource;
  readonly placement: Placement;
  /** How often the source has been halved already: its samples are the model's, one in 2^halvings each way. */
  readonly halvings: number;
}

export interface ContourMap {
  readonly interval: Interval;
  readonly maxZoom: number;
  readonly latDeg: number;
  readonly depressions: Depressions;
}

/** Layers that the map makes of its own, of one tile. */
export interface OwnLayers {
  readonly contours: VectorTileLayer;
  /** Points where heights can be written on index contours. */
  readonly labels: VectorTileLayer;
}

/** Layers of the tiles of a zoom, by x, y. */
export type LayersOfZoom = ReadonlyMap<string, OwnLayers>;
export const CONTOUR_LABELS = "contourLabel";
export const tileKey = (x: number, y: number): string => `${x}/${y}`;

/** Where a block, with what reaches over its edge, lies in the model: left, top, right, bottom in columns and rows. */
function cellsOf(
  { zoom, x0, y0, x1, y1 }: TileBlock,
  placement: Placement,
): readonly [number, number, number, number] {
  const tiles = 2 ** zoom;
  const over = (BUFFER + 1) / EXTENT;
  const box: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  const STEPS = 8;
  for (let j = 0; j <= STEPS; j++)
    for (let i = 0; i <= STEPS; i++) {
      if (i % STEPS !== 0 && j % STEPS !== 0) continue;
      const x = x0 - over + ((x1 + 1 - x0 + 2 * over) * i) / STEPS;
      const y = y0 - over + ((y1 + 1 - y0 + 2 * over) * j) / STEPS;
      const [column, row] = placement.toGrid([lonOf(x / tiles), latOf(y / tiles)]);
      box[0] = Math.min(box[0], column);
      box[1] = Math.min(box[1], row);
      box[2] = Math.max(box[2], column);
      box[3] = Math.max(box[3], row);
    }
  return box;
}

/**
 * Heights for a block, halved as often as a zoom wants, with two meshes more all around than the block takes up;
 * null where the model has none.
 */
function heightsFor(
  block: TileBlock,
  { source, placement, halvings: had }: ContourGround,
  halvings: number,
): HeightWindow | null {
  const size = 2 ** halvings;
  const [left, top, right, bottom] = cellsOf(block, placement).map((v) => v / size) as [
    number,
    number,
    number,
    number,
  ];
  const low = (v: number): number => (Math.floor(v / MESH) - 1) * MESH;
  const high = (v: number): number => (Math.ceil(v / MESH) + 1) * MESH;
  const more = 2 ** (halvings - had);
  // Two samples more, as the outermost of a halved window lack neighbours.
  const edge = halvings > had ? 2 : 0;
  const box = within(source, [
    (low(left) - edge) * more,
    (low(top) - edge) * more,
    (high(right) + edge) * more,
    (high(bottom) + edge) * more,
  ]);
  if (!box) return null;
  const window = halvedBy(source.window(box), halvings - had);
  return window.columns >= 2 && window.rows >= 2 ? window : null;
}

/** Draws the contours of one window into the tiles of the zooms that share it. */
function drawGroup(
  blocks: readonly TileBlock[],
  ground: ContourGround,
  halvings: number,
  map: ContourMap,
  into: ReadonlyMap<number, Map<string, OwnLayers>>,
): void {
  const { placement, source } = ground;
  const lowest = blocks.reduce((a, b) => (a.zoom < b.zoom ? a : b));
  const window = heightsFor(lowest, ground, halvings);
  if (!window) return;
  const { interval, maxZoom, latDeg } = map;
  const stepM = interval.value * metresPer(interval.unit);
  const zooms = blocks.map((block) => {
    const layers = into.get(block.zoom)!;
    let attributes: Attributes = {};
    const layersAt = (x: number, y: number): OwnLayers => {
      const key = tileKey(x, y);
      let own = layers.get(key);
      if (!own) {
        own = { contours: new VectorTileLayer("contour"), labels: new VectorTileLayer(CONTOUR_LABELS) };
        layers.set(key, own);
      }
      return own;
    };
    const cutter = new LineCutter(block, (x, y, part, n) =>
      layersAt(x, y).contours.addLine(part, n, attributes, x * EXTENT, y * EXTENT),
    );
    /** Each in the tile it lies in; other blocks see to their own. */
    const label = (line: Int32Array, n: number): void => {
      for (const { x, y, angleDeg } of contourLabels(line, n)) {
        const tx = Math.floor(x / EXTENT);
        const ty = Math.floor(y / EXTENT);
        if (tx < block.x0 || tx > block.x1 || ty < block.y0 || ty > block.y1) continue;
        const place = [Int32Array.of(x, y)];
        const said = { ele: attributes["ele"] ?? 0, angle: Math.round(angleDeg) };
        layersAt(tx, ty).labels.add(POINT, place, said, tx * EXTENT, ty * EXTENT);
      }
    };
    const world = EXTENT * 2 ** block.zoom;
    const every = drawnEvery(interval, block.zoom, maxZoom, latDeg);
    return {
      world,
      every,
      scale: {
        ...unitsPerCell(placement, source, ground.halvings, halvings, world),
        tolerance: TOLERANCE,
        stepM: stepM * every,
      },
      whole: block.zoom === maxZoom,
      draw(line: Int32Array, n: number, as: Attributes): void {
        attributes = as;
        cutter.cut(line, n);
        if (as["index"] === true) label(line, n);
      },
    };
  });
  const every = Math.min(...zooms.map((zoom) => zoom.every));
  const attributesOf = levelAttributes(interval);
  // Level by level, so that a tile's contours of a level become one feature.
  const lines = keptContours(window, stepM * every).sort((a, b) => a.level - b.level);

  let units = new Int32Array(1 << 12);
  let world = new Float64Array(1 << 12);
  for (const { level: drawn, coords: found, closed } of lines) {
    const level = drawn * every;
    const coords = closed ? settled(found) : found;
    const attributes = attributesOf(level, map.depressions.has(coords, closed, level, halvings));
    const drops = edgeDrops(coords, window);
    smooth(coords, drops, closed, stepM * every);
    if (coords.length > units.length) {
      units = new Int32Array(coords.length * 2);
      world = new Float64Array(coords.length * 2);
    }
    let projected = false;
    for (const zoom of zooms) {
      if (level % zoom.every !== 0) continue;
      const keep = zoom.whole ? null : thin(coords, drops, closed, zoom.scale, SMALLEST);
      if (!projected) {
        projected = true;
        const cells = 2 ** halvings;
        for (let i = 0; i < coords.length; i++) world[i] = coords[i]! * cells;
        const flat = world.subarray(0, coords.length);
        placement.toWorld(flat, flat);
      }
      let n = 0;
      for (let i = 0; i < drops.length; i++) {
        if (keep && !keep[i]) continue;
        units[2 * n] = Math.round(world[2 * i]! * zoom.world);
        units[2 * n + 1] = Math.round(world[2 * i + 1]! * zoom.world);
        n++;
      }
      if (n >= 2) zoom.draw(units, n, attributes);
    }
  }
}

/** Tile units that a column and a row are wide in the middle of the model. */
function unitsPerCell(
  placement: Placement,
  { columns, rows }: HeightSource,
  had: number,
  halvings: number,
  world: number,
): { unitsX: number; unitsY: number } {
  const size = 2 ** had;
  const c = (columns * size) / 2;
  const r = (rows * size) / 2;
  const at = Float64Array.of(c, r, c + 1, r, c, r + 1);
  placement.toWorld(at, at);
  const cells = 2 ** halvings * world;
  return {
    unitsX: Math.hypot(at[2]! - at[0]!, at[3]! - at[1]!) * cells,
    unitsY: Math.hypot(at[4]! - at[0]!, at[5]! - at[1]!) * cells,
  };
}

/**
 * The contour layers of blocks of tiles, one block a zoom, each covering the same ground.
 * @returns for each zoom its tiles that have contours
 */
export function contourTiles(
  blocks: readonly TileBlock[],
  ground: ContourGround,
  map: ContourMap,
): ReadonlyMap<number, LayersOfZoom> {
  const into = new Map(blocks.map((block) => [block.zoom, new Map<string, OwnLayers>()]));
  const groups = new Map<number, TileBlock[]>();
  for (const block of blocks) {
    const halvings = Math.max(ground.halvings, halvingsAt(block.zoom, ground.placement.cellM, map.latDeg));
    groups.set(halvings, [...(groups.get(halvings) ?? []), block]);
  }
  for (const [halvings, group] of groups) drawGroup(group, ground, halvings, map, into);
  return into;
}
