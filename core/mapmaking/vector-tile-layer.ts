/**
 * One layer of a vector tile, written feature by feature straight into bytes: a map at its highest zoom has thousands
 * of tiles in the making at once, so nothing but the bytes is kept.
 * Source: Mapbox Vector Tile Specification 2.1, sections 4.2 (features) and 4.3 (geometry).
 */
import { PbfWriter } from "pbf";
import type { Attributes } from "../map/features.ts";
import { GrowingBytes } from "./growing-bytes.ts";
import { AREA, LINE, POINT } from "./tile-feature.ts";

export const EXTENT = 4096;

const MOVE_TO = 1;
const LINE_TO = 2;
const CLOSE_PATH = 7;
const command = (id: number, count: number): number => (count << 3) | id;
const zigzag = (delta: number): number => (delta << 1) ^ (delta >> 31);
/** Keys of fields as they stand in the bytes: number << 3 | wire type 2, "length-delimited". */
const FEATURE_FIELD = (2 << 3) | 2;
const TAGS_FIELD = (2 << 3) | 2;
const TYPE_FIELD = 3 << 3;
const GEOMETRY_FIELD = (4 << 3) | 2;

export class VectorTileLayer {
  private readonly keys = new Map<string, number>();
  private readonly values = new Map<string | number | boolean, number>();
  private readonly features = new GrowingBytes();
  /** Of the feature being written. */
  private readonly geometry = new GrowingBytes();
  private readonly tags = new GrowingBytes();
  private type: number = LINE;
  private attributes: Attributes | null = null;
  private x = 0;
  private y = 0;

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
    this.endFeature();
    this.type = type;
    this.attributes = attributes;
    for (const part of parts) this.addPart(part, part.length / 2, dx, dy);
    this.endFeature();
  }

  /** Adds a line of `n` positions to the feature before it, if that is of lines and has the same attributes object. */
  addLine(line: Int32Array, n: number, attributes: Attributes, dx: number, dy: number): void {
    if (this.attributes !== attributes) {
      this.endFeature();
      this.type = LINE;
      this.attributes = attributes;
    }
    this.addPart(line, n, dx, dy);
  }

  /** Writes the layer into a tile. */
  writeTo(tile: PbfWriter): void {
    this.endFeature();
    if (this.features.length > 0) tile.writeMessage(3, (_, out) => this.write(out), null);
  }

  private write(out: PbfWriter): void {
    out.writeVarintField(15, 2);
    out.writeStringField(1, this.name);
    // The features are fields already: copied as they are.
    const bytes = this.features.view();
    out.realloc(bytes.length);
    out.buf.set(bytes, out.pos);
    out.pos += bytes.length;
    for (const key of this.keys.keys()) out.writeStringField(3, key);
    for (const value of this.values.keys()) out.writeMessage(4, writeValue, value);
    out.writeVarintField(5, EXTENT);
  }

  private endFeature(): void {
    const { geometry, tags, features, attributes } = this;
    this.attributes = null;
    this.x = this.y = 0;
    if (!attributes || geometry.length === 0) return;
    tags.clear();
    for (const [key, value] of Object.entries(attributes)) {
      tags.varint(indexIn(this.keys, key));
      tags.varint(indexIn(this.values, value));
    }
    const tagged = tags.length > 0 ? 1 + varintLength(tags.length) + tags.length : 0;
    features.varint(FEATURE_FIELD);
    features.varint(tagged + 2 + 1 + varintLength(geometry.length) + geometry.length);
    if (tagged > 0) {
      features.varint(TAGS_FIELD);
      features.varint(tags.length);
      features.append(tags.view());
    }
    features.varint(TYPE_FIELD);
    features.varint(this.type);
    features.varint(GEOMETRY_FIELD);
    features.varint(geometry.length);
    features.append(geometry.view());
    geometry.clear();
  }

  private addPart(part: Int32Array, positions: number, dx: number, dy: number): void {
    const { geometry, type } = this;
    const n = type === AREA ? positions - 1 : positions;
    const least = type === POINT ? 1 : type === LINE ? 2 : 3;
    // The specification forbids steps that stand still, and the count of steps comes before them.
    let moves = n > 0 ? 1 : 0;
    for (let i = 1; i < n; i++)
      if (part[2 * i] !== part[2 * i - 2] || part[2 * i + 1] !== part[2 * i - 1]) moves++;
    if (moves < least) return;
    let x = this.x;
    let y = this.y;
    geometry.varint(command(MOVE_TO, 1));
    for (let i = 0; i < n; i++) {
      const px = part[2 * i]! - dx;
      const py = part[2 * i + 1]! - dy;
      if (i > 0 && px === x && py === y) continue;
      geometry.varint(zigzag(px - x));
      geometry.varint(zigzag(py - y));
      if (i === 0 && moves > 1) geometry.varint(command(LINE_TO, moves - 1));
      x = px;
      y = py;
    }
    if (type === AREA) geometry.varint(command(CLOSE_PATH, 1));
    this.x = x;
    this.y = y;
  }
}

const varintLength = (value: number): number =>
  value < 0x80 ? 1 : value < 0x4000 ? 2 : value < 0x20_0000 ? 3 : value < 0x1000_0000 ? 4 : 5;

function indexIn<T>(known: Map<T, number>, item: T): number {
  let index = known.get(item);
  if (index === undefined) known.set(item, (index = known.size));
  return index;
}

function writeValue(value: string | number | boolean, out: PbfWriter): void {
  if (typeof value === "string") out.writeStringField(1, value);
  else if (typeof value === "boolean") out.writeBooleanField(7, value);
  else if (!Number.isSafeInteger(value)) out.writeDoubleField(3, value);
  else if (value < 0) out.writeSVarintField(6, value);
  else out.writeVarintField(5, value);
}
