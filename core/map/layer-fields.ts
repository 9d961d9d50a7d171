/** Layers, fields and values looked up in the tiles themselves, for archives that do not say which role a layer plays. */
import { VectorTile } from "@mapbox/vector-tile";
import { PbfReader } from "pbf";
import { Fault } from "../fault.ts";
import type { Archive } from "./archive.ts";
import type { LayerFields } from "./guess-roles.ts";
import { boundsOf } from "./map-info.ts";
import { tilesMeeting } from "./tile-grid.ts";

/** Enough to meet every common layer, few enough to open at once. */
const TILES_LOOKED_AT = 9;
const FEATURES_LOOKED_AT = 400;
/** Fields that classify have few values; names and numbers have too many to be worth keeping. */
const VALUES_KEPT = 100;

interface SeenLayer {
  features: number;
  readonly seen: Map<string, Map<string, number>>;
}

/** Tiles about the middle of the map at its finest zoom; damaged ones are passed over. */
export async function peekLayers(archive: Archive): Promise<LayerFields[]> {
  const layers = new Map<string, SeenLayer>();
  for (const [x, y] of middleTiles(archive))
    try {
      const bytes = await archive.readTile(archive.header.maxZoom, x, y);
      if (bytes) collect(new VectorTile(new PbfReader(bytes)), layers);
    } catch (thrown) {
      if (thrown instanceof Fault && thrown.code !== "bad-tile") throw thrown;
    }
  return Array.from(layers, ([name, { features, seen }]) => ({
    name,
    fields: [...seen.keys()],
    seen,
    features,
  }));
}

function middleTiles(archive: Archive): (readonly [number, number])[] {
  const range = tilesMeeting(boundsOf(archive), archive.header.maxZoom);
  const mx = (range.x0 + range.x1) >> 1;
  const my = (range.y0 + range.y1) >> 1;
  const side = Math.ceil(Math.sqrt(TILES_LOOKED_AT));
  const tiles: (readonly [number, number])[] = [];
  for (let i = 0; i < side * side; i++) {
    const x = mx + (i % side) - (side >> 1);
    const y = my + Math.floor(i / side) - (side >> 1);
    if (x >= range.x0 && x <= range.x1 && y >= range.y0 && y <= range.y1) tiles.push([x, y]);
  }
  return tiles;
}

function collect(tile: VectorTile, layers: Map<string, SeenLayer>): void {
  for (const layer of Object.values(tile.layers)) {
    const one = layers.get(layer.name) ?? { features: 0, seen: new Map<string, Map<string, number>>() };
    layers.set(layer.name, one);
    one.features += layer.length;
    const { seen } = one;
    for (let i = 0; i < Math.min(layer.length, FEATURES_LOOKED_AT); i++)
      for (const [field, value] of Object.entries(layer.feature(i).properties)) {
        const values = seen.get(field) ?? new Map<string, number>();
        seen.set(field, values);
        if (values.has(String(value)) || values.size < VALUES_KEPT)
          values.set(String(value), (values.get(String(value)) ?? 0) + 1);
      }
  }
}
