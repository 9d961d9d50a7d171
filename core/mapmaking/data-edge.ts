/** The edge of a model as a line of the map: where contours end because the data do, not because the ground is level. */
import type { Placement } from "./elevation/grid-placement.ts";
import type { Frame } from "./height-source.ts";
import { LineCutter, type TileBlock } from "./line-cutter.ts";
import { simplify } from "./simplify.ts";
import { EXTENT, VectorTileLayer } from "./vector-tile-layer.ts";

export const DATA_EDGE = "dataEdge";
export const DATA_EDGE_ATTRIBUTES = { kind: "edge of data" } as const;

/** Cells between positions before the line is thinned. */
const EVERY = 16;

/** The ring around a model's outermost samples, in units of a zoom. */
function ringOf({ columns, rows }: Frame, placement: Placement, zoom: number): Int32Array {
  const places: number[] = [];
  const side = (c0: number, r0: number, c1: number, r1: number): void => {
    const steps = Math.ceil(Math.max(Math.abs(c1 - c0), Math.abs(r1 - r0)) / EVERY);
    for (let k = 0; k < steps; k++) places.push(c0 + ((c1 - c0) * k) / steps, r0 + ((r1 - r0) * k) / steps);
  };
  side(0, 0, columns - 1, 0);
  side(columns - 1, 0, columns - 1, rows - 1);
  side(columns - 1, rows - 1, 0, rows - 1);
  side(0, rows - 1, 0, 0);
  places.push(0, 0);
  const world = Float64Array.from(places);
  placement.toWorld(world, world);
  return simplify(
    Int32Array.from(world, (v) => Math.round(v * EXTENT * 2 ** zoom)),
    1,
  );
}

/** The edge's layers in a block of tiles. */
export function dataEdge(
  block: TileBlock,
  frame: Frame,
  placement: Placement,
  take: (x: number, y: number, layer: VectorTileLayer) => void,
): void {
  const ring = ringOf(frame, placement, block.zoom);
  const layers = new Map<string, readonly [x: number, y: number, layer: VectorTileLayer]>();
  const cutter = new LineCutter(block, (x, y, part, n) => {
    const key = `${x}/${y}`;
    const [, , layer] = layers.get(key) ?? [x, y, new VectorTileLayer(DATA_EDGE)];
    layers.set(key, [x, y, layer]);
    layer.addLine(part, n, DATA_EDGE_ATTRIBUTES, x * EXTENT, y * EXTENT);
  });
  cutter.cut(ring, ring.length / 2);
  for (const [x, y, layer] of layers.values()) take(x, y, layer);
}
