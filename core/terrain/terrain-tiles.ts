/**
 * Heights from an archive of terrain tiles: pictures whose colours are heights.
 * A sample sits at the centre of its pixel. Between four samples the height is bilinear; where any of the four that
 * counts is missing there is no height: nothing is filled in. Where the archive tells the grid of the model it was made
 * from, heights are those of the model, bilinear in its own grid: see `ModelCells`.
 */
import { Fault } from "../fault.ts";
import { type Archive, openArchive, TileType } from "../map/archive.ts";
import { boundsOf } from "../map/map-info.ts";
import type { ByteSource } from "../map/source.ts";
import { TileCache } from "../map/tile-cache.ts";
import { intersectBbox, latToShare, lonToShare, type TileRange, tilesMeeting } from "../map/tile-grid.ts";
import { DEG } from "../units/angle.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import type { ElevationModel, SamplesAround } from "./elevation.ts";
import { gridCrossings } from "./grid-crossings.ts";
import { encodingThatFits, type HeightEncoding, heightsFromPixels, type Pixels } from "./height-encoding.ts";
import { decodePicture, type GroundDecoders } from "./height-pictures.ts";
import { ModelCells, type ModelGrid, modelGridOf } from "./model-cells.ts";
import { readNet } from "./sample-net.ts";

export type { GroundDecoders, PictureDecoder } from "./height-pictures.ts";

type Decode = (bytes: Uint8Array) => Promise<Pixels>;

const CACHE_BYTES = 64 * 2 ** 20;
/** Half the equator and more: WGS 84 semi-axis times 2π. */
const EQUATOR_M = 2 * Math.PI * 6_378_137;

/** A model's cell is at most this many pixels across where cells are read as a whole. */
const CELL_PX = 16;

interface HeightTile {
  readonly bytes: number;
  /** Metres, row by row from the north-west, NaN where unknown; null for a tile that is missing or damaged. */
  readonly heights: Float32Array | null;
}

/**
 * Opens an archive of terrain tiles, PNG or lossless WebP.
 * @param decoders what the host unpacks and decodes, beyond gzip and PNG
 * @throws Fault "bad-archive" when it is damaged or holds no terrain pictures that can be decoded, what the source throws
 */
export async function openTerrain(
  source: ByteSource,
  decoders: GroundDecoders = {},
): Promise<ElevationModel> {
  const archive = await openArchive(source, decoders);
  const { tileType, maxZoom } = archive.header;
  const readable = [TileType.Png, TileType.Unknown, ...(decoders.webp ? [TileType.Webp] : [])];
  if (!readable.includes(tileType))
    throw new Fault(
      "bad-archive",
      tileType === TileType.Webp
        ? "The archive's tiles are WebP pictures, and heights cannot be read from these here."
        : "The archive's tiles are neither PNG nor WebP pictures, so no heights can be read from them.",
      source.key,
      "Make the map again, with PNG tiles.",
    );
  const decode: Decode = (bytes) => decodePicture(bytes, decoders);
  const { size, encoding } = await tileFacts(archive, decode);
  return new TerrainTiles(archive, maxZoom, size, modelGridOf(said(archive, "grid")), (bytes) =>
    readHeights(bytes, size, encoding, decode),
  );
}

/** A member of the metadata, or of our own part of it. */
function said({ metadata }: Archive, member: string): unknown {
  const own = metadata["legwright"];
  return (
    metadata[member] ??
    (typeof own === "object" && own !== null ? (own as Record<string, unknown>)[member] : undefined)
  );
}

function declaredEncoding(archive: Archive): HeightEncoding | null {
  const encoding = said(archive, "encoding");
  if (encoding === undefined) return null;
  if (encoding === "terrarium" || encoding === "mapbox") return encoding;
  throw new Fault(
    "bad-archive",
    `The heights are written in a way not known here: ${JSON.stringify(encoding)}.`,
    archive.key,
    "Make the map again.",
  );
}

/** What the metadata tells of the tiles, and what it leaves out as the first tile that can be read shows it. */
async function tileFacts(
  archive: Archive,
  decode: Decode,
): Promise<{ readonly size: number; readonly encoding: HeightEncoding }> {
  const declared = said(archive, "tileSize");
  let size = declared === 256 || declared === 512 || declared === 1024 ? declared : null;
  let encoding = declaredEncoding(archive);
  if (size !== null && encoding) return { size, encoding };
  const { maxZoom } = archive.header;
  const range = tilesMeeting(boundsOf(archive), maxZoom);
  let tries = 0;
  let why: Fault | null = null;
  for (let y = range.y0; y <= range.y1 && tries < 64; y++)
    for (let x = range.x0; x <= range.x1 && tries < 64; x++, tries++) {
      const bytes = await archive.readTile(maxZoom, x, y).catch(onlyDamage);
      if (!bytes) continue;
      try {
        const pixels = await decode(bytes);
        size ??= pixels.width;
        // A tile of voids alone does not tell.
        encoding ??= encodingThatFits(pixels);
        if (encoding) return { size, encoding };
      } catch (thrown) {
        why ??= Fault.from(thrown); // another tile may tell
      }
    }
  throw new Fault(
    "bad-archive",
    size === null
      ? `The terrain archive has no tile that can be read.${why ? ` ${why.what}` : ""}`
      : "The terrain archive's colours are no heights in any way known here.",
    archive.key,
    "Make the map again.",
  );
}

function onlyDamage(thrown: unknown): null {
  if (thrown instanceof Fault && thrown.code === "bad-tile") return null;
  throw thrown;
}

async function readHeights(
  bytes: Uint8Array | null,
  size: number,
  encoding: HeightEncoding,
  decode: Decode,
): Promise<HeightTile> {
  const none: HeightTile = { bytes: 100, heights: null };
  if (!bytes) return none;
  let pixels: Pixels;
  try {
    pixels = await decode(bytes);
  } catch {
    return none;
  }
  if (pixels.width !== size || pixels.height !== size) return none;
  const heights = heightsFromPixels(pixels, encoding);
  return { bytes: heights.byteLength, heights };
}

class TerrainTiles implements ElevationModel {
  readonly #bounds: Bbox;
  readonly #z: number;
  readonly #size: number;
  readonly #worldPx: number;
  readonly #cache: TileCache<HeightTile>;
  readonly #cells: ModelCells | null;
  // The tile asked last: neighbouring samples mostly come from the same one.
  #lastX = -1;
  #lastY = -1;
  #last: HeightTile | undefined;
  #seen = 0;

  constructor(
    archive: Archive,
    z: number,
    size: number,
    grid: ModelGrid | null,
    read: (bytes: Uint8Array | null) => Promise<HeightTile>,
  ) {
    this.#bounds = boundsOf(archive);
    this.#z = z;
    this.#size = size;
    this.#worldPx = size * 2 ** z;
    this.#cells = grid && new ModelCells(grid, this.#worldPx, (x, y) => this.#sample(x, y));
    this.#cache = new TileCache(CACHE_BYTES, async (x, y) =>
      read(await archive.readTile(z, x, y).catch(onlyDamage)),
    );
  }

  spacingM(latDeg: number): number {
    return (EQUATOR_M * Math.cos(latDeg * DEG)) / this.#worldPx;
  }

  async prepare(bbox: Bbox, signal?: AbortSignal): Promise<void> {
    const range = this.#range(bbox);
    if (range) await this.#cache.prepare(range, signal);
    if (this.#cache.changes === this.#seen) return;
    this.#seen = this.#cache.changes;
    this.#last = undefined;
    this.#lastX = -1;
    this.#cells?.forget();
  }

  isPrepared(bbox: Bbox): boolean {
    const range = this.#range(bbox);
    return !range || this.#cache.hasAll(range);
  }

  /** Where the way crosses from one square of four samples into the next: the model's, else the pixels'. */
  bends(from: LonLat, to: LonLat): number[] {
    if (this.#cells) return this.#cells.bends(from, to);
    const inPixels = ([lon, lat]: LonLat): readonly [number, number] => [
      lonToShare(lon) * this.#worldPx - 0.5,
      latToShare(lat) * this.#worldPx - 0.5,
    ];
    return gridCrossings(inPixels(from), inPixels(to));
  }

  samplesAround(position: LonLat): SamplesAround | null {
    return this.#cells?.samplesAround(position) ?? null;
  }

  at(position: LonLat): number {
    const [lon, lat] = position;
    const exact = this.#cells?.at(position);
    if (typeof exact === "number") return exact;
    const px = lonToShare(lon) * this.#worldPx - 0.5;
    const py = latToShare(lat) * this.#worldPx - 0.5;
    const x = Math.floor(px);
    const y = Math.floor(py);
    const fx = px - x;
    const fy = py - y;
    // A sample of no weight is not asked: exactly on a sample its neighbours do not matter.
    const north = this.#between(this.#sample(x, y), fx === 0 ? 0 : this.#sample(x + 1, y), fx);
    if (fy === 0) return north;
    const south = this.#between(this.#sample(x, y + 1), fx === 0 ? 0 : this.#sample(x + 1, y + 1), fx);
    return this.#between(north, south, fy);
  }

  readNet(lons: Float64Array, lats: Float64Array, out: Float32Array): void {
    const tile = (x: number, y: number): Float32Array | null => this.#cache.get(x, y)?.heights ?? null;
    readNet({ size: this.#size, worldPx: this.#worldPx, tile }, lons, lats, out);
  }

  #between(a: number, b: number, share: number): number {
    return a + (b - a) * share;
  }

  #sample(x: number, y: number): number {
    const size = this.#size;
    const tx = Math.floor(x / size);
    const ty = Math.floor(y / size);
    if (tx !== this.#lastX || ty !== this.#lastY) {
      this.#last = this.#cache.get(tx, ty);
      this.#lastX = tx;
      this.#lastY = ty;
    }
    return this.#last?.heights?.[(y - ty * size) * size + (x - tx * size)] ?? Number.NaN;
  }

  /** Tiles a box needs, some pixels around it included; null when it lies wholly outside. */
  #range(bbox: Bbox): TileRange | null {
    if (!bbox.every(Number.isFinite)) throw new Fault("bad-argument", "A box on the map needs four numbers.");
    const pixelLon = (360 / this.#worldPx) * (this.#cells ? CELL_PX : 1);
    const around: Bbox = [bbox[0] - pixelLon, bbox[1] - pixelLon, bbox[2] + pixelLon, bbox[3] + pixelLon];
    const inside = intersectBbox(around, this.#bounds);
    return inside && tilesMeeting(inside, this.#z);
  }
}
