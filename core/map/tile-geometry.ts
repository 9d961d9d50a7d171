/**
 * The geometry of one feature of a vector tile, read no further than the tile goes.
 * Source: Mapbox Vector Tile specification 2.1, section 4.3.
 * The format's own reader takes it on trust: five bytes can have it close one ring half a billion times.
 */
import type { VectorTileFeature } from "@mapbox/vector-tile";
import type { PbfReader } from "pbf";
import type { Vertex } from "./clip-line.ts";

const [MOVE_TO, LINE_TO, CLOSE_PATH] = [1, 2, 7];

/**
 * Parts of vertices in tile units; rings with their first position repeated at the end.
 * @throws RangeError when the bytes are no geometry
 */
export function geometryOf(feature: VectorTileFeature): Vertex[][] {
  const pbf = feature["_pbf"] as PbfReader;
  const start = feature["_geometry"] as number;
  if (start < 0) return [];
  pbf.pos = start;
  const end = pbf.readVarint() + pbf.pos;
  if (!(end <= pbf.length)) throw new RangeError("A feature's geometry goes beyond its tile.");
  const parts: Vertex[][] = [];
  let part: Vertex[] | null = null;
  let [x, y] = [0, 0];
  while (pbf.pos < end) {
    const command = pbf.readVarint();
    const count = command >>> 3;
    // Each position takes two bytes or more; a ring is closed once.
    const most = (command & 7) === CLOSE_PATH ? 1 : (end - pbf.pos) / 2;
    if (count > most) throw new RangeError("A feature's geometry claims more positions than it has.");
    switch (command & 7) {
      case MOVE_TO:
        for (let i = 0; i < count; i++) {
          x += pbf.readSVarint();
          y += pbf.readSVarint();
          part = [{ x, y }];
          parts.push(part);
        }
        break;
      case LINE_TO:
        for (let i = 0; i < count; i++) {
          x += pbf.readSVarint();
          y += pbf.readSVarint();
          part?.push({ x, y });
        }
        break;
      case CLOSE_PATH:
        if (count > 0 && part) part.push({ ...(part[0] as Vertex) });
        break;
      default:
        throw new RangeError("A feature's geometry has a command that does not exist.");
    }
  }
  return parts;
}
