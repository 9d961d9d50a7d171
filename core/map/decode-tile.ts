/**
 * One vector tile into features in longitude and latitude, cut to the tile and indexed.
 * Source: Mapbox Vector Tile specification 2.1; the byte format itself is read by @mapbox/vector-tile.
 */
import { VectorTile } from "@mapbox/vector-tile";
import { PbfReader } from "pbf";
import { clipLine, joinPieces, type Piece, type Vertex } from "./clip-line.ts";
import { clipRing } from "./clip-ring.ts";
import type { AreaFeature, Attributes, LineFeature, PointFeature } from "./features.ts";
import type { Kind } from "./kinds.ts";
import type { Bbox } from "../units/position.ts";
import { areaKinds, lineKind, pointKind } from "./role-kinds.ts";
import { type FeatureReader, type LayerReaders, readersFor } from "./role-readers.ts";
import { indexRuns, type RunIndex } from "./run-index.ts";
import type { TileAddress } from "./tile-grid.ts";
import { geometryOf } from "./tile-geometry.ts";
import { Placing } from "./tile-placing.ts";

export interface DecodedTile {
  readonly state: "read" | "missing" | "damaged";
  readonly bytes: number;
  readonly lines: readonly LineFeature[];
  /** What must be equal for a line to go on in the next tile: one text a line. */
  readonly identities: readonly string[];
  /** Line ends on the tile's edge: 2 · line + 0 for its start, + 1 for its end … */
  readonly ends: Int32Array;
  /** … and x, y of each in match units. */
  readonly endsAt: Float64Array;
  readonly runs: ReadonlyMap<Kind, RunIndex>;
  readonly points: readonly PointFeature[];
  readonly areas: readonly AreaFeature[];
  /** Bounding box of each area. */
  readonly areaBoxes: readonly Bbox[];
}

export function emptyTile(state: DecodedTile["state"]): DecodedTile {
  return {
    state,
    bytes: 200,
    lines: [],
    identities: [],
    ends: new Int32Array(0),
    endsAt: new Float64Array(0),
    runs: new Map(),
    points: [],
    areas: [],
    areaBoxes: [],
  };
}

/**
 * @param bytes the tile at `from`, decompressed
 * @param at the tile wanted: `from` itself, or one it covers when the archive has no finer one
 * @throws whatever the byte format's reader throws on damage
 */
export function decodeTile(
  bytes: Uint8Array,
  from: TileAddress,
  at: TileAddress,
  layers: LayerReaders,
): DecodedTile {
  const tile = new VectorTile(new PbfReader(bytes));
  const found = new Found();
  for (const [name, readers] of layers) {
    const layer = tile.layers[name];
    if (!layer) continue;
    found.layer = name;
    if (!(layer.extent > 0)) throw new RangeError("A layer's extent must be positive.");
    const place = new Placing(from, at, layer.extent);
    for (let i = 0; i < layer.length; i++) {
      const feature = layer.feature(i);
      const reader = readersFor(readers, feature.properties);
      if (!reader || feature.type === 0) continue;
      const geometry = geometryOf(feature);
      if (feature.type === 1) found.addPoints(reader, feature.properties, geometry, place);
      else if (feature.type === 2) found.addLines(reader, feature.properties, geometry, place);
      else found.addAreas(reader, feature.properties, geometry, place);
    }
  }
  return found.finish(bytes.length);
}

/** What has been found in a tile so far. */
class Found {
  readonly #lines: LineFeature[] = [];
  readonly #identities: string[] = [];
  readonly #ends: number[] = [];
  readonly #endsAt: number[] = [];
  readonly #points: PointFeature[] = [];
  readonly #areas: AreaFeature[] = [];
  /** Of roles that several layers play: which layer each thing came from first. */
  readonly #firstIn = new Map<string, string>();
  #identityBytes = 0;
  /** The layer being read. */
  layer = "";

  /** Whether another layer of the role has the very same thing. */
  #isRepeated(reader: FeatureReader, kind: Kind, flat: ArrayLike<number>): boolean {
    if (!reader.shared) return false;
    const at = (i: number): number | undefined => flat[i];
    const middle = flat.length >> 1;
    const key = [kind, flat.length, at(0), at(1), at(middle), at(middle + 1), at(flat.length - 2)].join(" ");
    const first = this.#firstIn.get(key);
    if (first === undefined) this.#firstIn.set(key, this.layer);
    return first !== undefined && first !== this.layer;
  }

  addPoints(
    reader: FeatureReader,
    properties: Attributes,
    geometry: readonly (readonly Vertex[])[],
    place: Placing,
  ): void {
    const kind = pointKind(reader.role);
    if (!kind) return;
    const w = place.window;
    const attributes = { ...properties };
    for (const part of geometry)
      for (const { x, y } of part)
        if (x >= w.x0 && x < w.x1 && y >= w.y0 && y < w.y1 && !this.#isRepeated(reader, kind, [x, y, x, y]))
          this.#points.push({
            kind,
            name: reader.name(properties),
            elevationM: reader.elevationM(properties),
            lonLat: [place.lon(x), place.lat(y)],
            attributes,
          });
  }

  addLines(
    reader: FeatureReader,
    properties: Attributes,
    geometry: readonly (readonly Vertex[])[],
    place: Placing,
  ): void {
    const kind = lineKind(reader.role, properties);
    if (!kind) return;
    let pieces: Piece[] = [];
    for (const part of geometry) pieces.push(...clipLine(part, place.window, false));
    pieces = joinPieces(pieces, place.window);
    this.#addPieces(kind, reader, properties, pieces, place);
  }

  addAreas(
    reader: FeatureReader,
    properties: Attributes,
    geometry: readonly (readonly Vertex[])[],
    place: Placing,
  ): void {
    const { area, edge } = areaKinds(reader.role);
    if (area) {
      const rings: Float64Array[] = [];
      for (const ring of geometry) {
        const clipped = clipRing(ring, place.window);
        if (clipped.length > 0 && !this.#isRepeated(reader, area, clipped))
          rings.push(place.toLonLat(clipped));
      }
      if (rings.length > 0)
        this.#areas.push({
          kind: area,
          name: reader.name(properties),
          elevationM: reader.elevationM(properties),
          rings,
          attributes: { ...properties },
        });
    }
    if (edge) {
      const pieces: Piece[] = [];
      for (const ring of geometry) pieces.push(...clipLine(ring, place.window, true));
      this.#addPieces(edge, reader, properties, pieces, place);
    }
  }

  #addPieces(
    kind: Kind,
    reader: FeatureReader,
    properties: Attributes,
    pieces: readonly Piece[],
    place: Placing,
  ): void {
    if (pieces.length === 0) return;
    const attributes = { ...properties };
    const shared = {
      kind,
      name: reader.name(properties),
      elevationM: reader.elevationM(properties),
      index: reader.index(properties),
      attributes,
    };
    const identity = identityOf(kind, attributes);
    this.#identityBytes += identity.length * pieces.length;
    for (const piece of pieces) {
      if (this.#isRepeated(reader, kind, piece)) continue;
      const at = this.#lines.push({ ...shared, coords: place.toLonLat(piece) }) - 1;
      this.#identities.push(identity);
      this.#addEnd(2 * at, piece[0] as number, piece[1] as number, place);
      this.#addEnd(2 * at + 1, piece.at(-2) as number, piece.at(-1) as number, place);
    }
  }

  #addEnd(end: number, x: number, y: number, place: Placing): void {
    if (!place.onEdge(x, y)) return;
    this.#ends.push(end);
    this.#endsAt.push(place.matchX(x), place.matchY(y));
  }

  finish(tileBytes: number): DecodedTile {
    let numbers = 0;
    for (const line of this.#lines) numbers += line.coords.length;
    for (const area of this.#areas) for (const ring of area.rings) numbers += ring.length;
    const features = this.#lines.length + this.#points.length + this.#areas.length;
    return {
      state: "read",
      // Eight bytes a number, a quarter more for the runs, and some 300 for the objects of each feature.
      bytes: 200 + tileBytes + this.#identityBytes + numbers * 10 + features * 300,
      lines: this.#lines,
      identities: this.#identities,
      ends: Int32Array.from(this.#ends),
      endsAt: Float64Array.from(this.#endsAt),
      runs: indexRuns(this.#lines),
      points: this.#points,
      areas: this.#areas,
      areaBoxes: this.#areas.map(areaBox),
    };
  }
}

/** Longer texts stand in by their beginning and length: one such text may be shared by every feature of a tile. */
const LONG_TEXT = 200;

function identityOf(kind: Kind, attributes: Attributes): string {
  const isLong = (value: unknown): value is string => typeof value === "string" && value.length > LONG_TEXT;
  const told = Object.values(attributes).some(isLong)
    ? Object.entries(attributes).map(([field, value]) => [
        field,
        isLong(value) ? [value.slice(0, LONG_TEXT), value.length] : value,
      ])
    : attributes;
  return `${kind} ${JSON.stringify(told)}`;
}

function areaBox({ rings }: AreaFeature): Bbox {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const ring of rings)
    for (let i = 0; i < ring.length; i += 2) {
      const lon = ring[i] as number;
      const lat = ring[i + 1] as number;
      west = Math.min(west, lon);
      east = Math.max(east, lon);
      south = Math.min(south, lat);
      north = Math.max(north, lat);
    }
  return [west, south, east, north];
}
