/**
 * One layer of a vector tile, written feature by feature straight into bytes: a map at its highest zoom has thousands
 * of tiles in the making at once, so nothing but the bytes is kept.
 * Source: Mapbox Vector Tile Specification 2.1, sections 4.2 (features) and 4.3 (geometry).
 */
import { PbfWriter } from "pbf";
import type { Attributes } from "../map/features.ts";
import { AREA, LINE, POINT } from "./tile-feature.ts";

export const EXTENT = 4096;

const MOVE_TO = 1;
const LINE_TO = 2;
const CLOSE_PATH = 7;
const command = (id: number, count: number): number => (count << 3) | id;
const zigzag = (delta: number): number => (delta << 1) ^ (delta >> 31);

export class VectorTileLayer {
  private readonly keys = new Map<string, number>();
  private readonly values = new Map<string | number | boolean, number>();
  private readonly features = new PbfWriter();
  private readonly tags: number[] = [];
  private readonly geometry: number[] = [];
  private count = 0;

  constructor(private readonly name: string) {}

  /**
   * Adds a feature; parts shorter than their kind needs (one position, two, a ring of three) are left out.
   * @param parts positions x, y … in tile units, lines and rings as in `TileFeature`
   * @param dx taken off every x, and `dy` off every y, to bring them into the tile
   */
  add(
    type: typeof POINT | typeof LINE | typeof AREA,
    parts: readonly Int32Array[],
    attributes: Attributes,
    dx: number,
    dy: number,
  ): void {
    this.writeGeometry(type, parts, dx, dy);
    if (this.geometry.length === 0) return;
    this.tags.length = 0;
    for (const [key, value] of Object.entries(attributes))
      this.tags.push(indexIn(this.keys, key), indexIn(this.values, value));
    this.count++;
    this.features.writeMessage(2, writeFeature, { tags: this.tags, type, geometry: this.geometry });
  }

  /** Writes the layer into a tile. */
  writeTo(tile: PbfWriter): void {
    if (this.count > 0) tile.writeMessage(3, (_, out) => this.write(out), null);
  }

  private write(out: PbfWriter): void {
    out.writeVarintField(15, 2);
    out.writeStringField(1, this.name);
    const features = this.features;
    // The features are fields already: copied as they are.
    const bytes = features.buf.subarray(0, features.pos);
    out.realloc(bytes.length);
    out.buf.set(bytes, out.pos);
    out.pos += bytes.length;
    for (const key of this.keys.keys()) out.writeStringField(3, key);
    for (const value of this.values.keys()) out.writeMessage(4, writeValue, value);
    out.writeVarintField(5, EXTENT);
  }

  private writeGeometry(type: number, parts: readonly Int32Array[], dx: number, dy: number): void {
    const out = this.geometry;
    out.length = 0;
    let x = 0;
    let y = 0;
    for (const part of parts) {
      const n = type === AREA ? part.length / 2 - 1 : part.length / 2;
      if (n < (type === POINT ? 1 : type === LINE ? 2 : 3)) continue;
      const at = out.length;
      const [x0, y0] = [x, y];
      let written = 0;
      out.push(command(MOVE_TO, 1));
      for (let i = 0; i < n; i++) {
        const px = part[2 * i]! - dx;
        const py = part[2 * i + 1]! - dy;
        // The specification forbids steps that stand still.
        if (written > 0 && px === x && py === y) continue;
        if (written === 1) out.push(0);
        out.push(zigzag(px - x), zigzag(py - y));
        [x, y] = [px, py];
        written++;
      }
      if (written < (type === POINT ? 1 : type === LINE ? 2 : 3)) {
        out.length = at;
        [x, y] = [x0, y0];
        continue;
      }
      if (written > 1) out[at + 3] = command(LINE_TO, written - 1);
      if (type === AREA) out.push(command(CLOSE_PATH, 1));
    }
  }
}

function indexIn<T>(known: Map<T, number>, item: T): number {
  let index = known.get(item);
  if (index === undefined) known.set(item, (index = known.size));
  return index;
}

function writeFeature(feature: { tags: number[]; type: number; geometry: number[] }, out: PbfWriter): void {
  out.writePackedVarint(2, feature.tags);
  out.writeVarintField(3, feature.type);
  out.writePackedVarint(4, feature.geometry);
}

function writeValue(value: string | number | boolean, out: PbfWriter): void {
  if (typeof value === "string") out.writeStringField(1, value);
  else if (typeof value === "boolean") out.writeBooleanField(7, value);
  else if (!Number.isSafeInteger(value)) out.writeDoubleField(3, value);
  else if (value < 0) out.writeSVarintField(6, value);
  else out.writeVarintField(5, value);
}
