/** A map archive, opened: its tiles read and decoded when asked for, its features answered from memory. */
import { Fault } from "../fault.ts";
import { bboxesMeet, type Bbox } from "../units/position.ts";
import { type Archive, openArchive, TileType } from "./archive.ts";
import { blindParts } from "./blind-parts.ts";
import { type DecodedTile, decodeTile, emptyTile } from "./decode-tile.ts";
import type { AreaFeature, LineFeature, MapFeatures, PointFeature } from "./features.ts";
import type { Kind } from "./kinds.ts";
import type { MapInfo } from "./metadata.ts";
import { peekLayers } from "./layer-fields.ts";
import { declaresRoles, mapInfo } from "./map-info.ts";
import { layerReaders, type LayerReaders } from "./role-readers.ts";
import type { ByteSource } from "./source.ts";
import { Stitched } from "./stitch.ts";
import { TileCache } from "./tile-cache.ts";
import { intersectBbox, type TileRange, tilesMeeting } from "./tile-grid.ts";
import type { ArchiveDecoders } from "./unpack.ts";

const CACHE_BYTES = 96 * 2 ** 20;
/** Sets of tiles kept stitched: two legs are worked out while a point is dragged, each with a set or two … */
const STITCHED_KEPT = 6;
const STITCHED_LEAST = 2;
/** … and what they hold, the tiles they keep from going included, is limited as well. */
const STITCHED_BYTES = 48 * 2 ** 20;

/**
 * Opens an archive of vector tiles.
 * @param decoders what the host unpacks, beyond gzip
 * @param roles set by a person; null takes those the archive says, or a guess
 * @throws Fault "bad-archive" when it is damaged, not PMTiles v3, or holds no vector tiles; what the source throws
 */
export async function openMap(
  source: ByteSource,
  decoders: ArchiveDecoders = {},
  roles: MapInfo["roles"] | null = null,
): Promise<MapFeatures> {
  const archive = await openArchive(source, decoders);
  if (archive.header.tileType !== TileType.Mvt && archive.header.tileType !== TileType.Unknown)
    throw new Fault(
      "bad-archive",
      "The archive holds pictures, not vector tiles.",
      source.key,
      "Choose an archive of vector tiles (MVT).",
    );
  const seen = roles || declaresRoles(archive) ? [] : await peekLayers(archive);
  return new ArchiveMap(archive, mapInfo(archive, seen, roles));
}

class ArchiveMap implements MapFeatures {
  readonly info;
  readonly #cache: TileCache<DecodedTile>;
  readonly #stitched = new Map<string, Stitched>();

  constructor(archive: Archive, info: MapFeatures["info"]) {
    this.info = info;
    const readers = layerReaders(info);
    this.#cache = new TileCache(CACHE_BYTES, (x, y) => loadTile(archive, readers, info.maxZoom, x, y));
  }

  async prepare(bbox: Bbox, signal?: AbortSignal): Promise<void> {
    const range = this.#range(bbox);
    if (range) await this.#cache.prepare(range, signal);
  }

  isPrepared(bbox: Bbox): boolean {
    const range = this.#range(bbox);
    return !range || this.#cache.hasAll(range);
  }

  lines(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly LineFeature[] {
    const range = this.#range(bbox);
    if (!range) return [];
    const tiles = this.#tiles(range);
    const stitched = this.#stitch(range, tiles);
    const taken = new Set<number>();
    tiles.forEach((tile, t) => {
      for (const [kind, runs] of tile.runs) {
        if (kinds && !kinds.has(kind)) continue;
        for (const run of runs.boxes.search(bbox[0], bbox[1], bbox[2], bbox[3]))
          taken.add(stitched.idOf(t, runs.lineOf[run] as number));
      }
    });
    return Array.from(taken, (id) => stitched.line(id));
  }

  points(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly PointFeature[] {
    const found: PointFeature[] = [];
    const range = this.#range(bbox);
    if (!range) return found;
    for (const tile of this.#tiles(range))
      for (const point of tile.points) {
        const [lon, lat] = point.lonLat;
        if (
          lon >= bbox[0] &&
          lon <= bbox[2] &&
          lat >= bbox[1] &&
          lat <= bbox[3] &&
          (!kinds || kinds.has(point.kind))
        )
          found.push(point);
      }
    return found;
  }

  areas(bbox: Bbox, kinds?: ReadonlySet<Kind>): readonly AreaFeature[] {
    const found: AreaFeature[] = [];
    const range = this.#range(bbox);
    if (!range) return found;
    for (const tile of this.#tiles(range))
      tile.areas.forEach((area, i) => {
        if ((!kinds || kinds.has(area.kind)) && bboxesMeet(tile.areaBoxes[i] as Bbox, bbox)) found.push(area);
      });
    return found;
  }

  blind(bbox: Bbox) {
    const range = this.#range(bbox) ?? { z: this.info.maxZoom, x0: 0, y0: 0, x1: -1, y1: -1 };
    return blindParts(bbox, this.info.bounds, range, (x, y) => this.#cache.get(x, y));
  }

  /** Tiles a box needs; null when it lies wholly outside the map. */
  #range(bbox: Bbox): TileRange | null {
    if (!bbox.every(Number.isFinite)) throw new Fault("bad-argument", "A box on the map needs four numbers.");
    const inside = intersectBbox(bbox, this.info.bounds);
    return inside && tilesMeeting(inside, this.info.maxZoom);
  }

  #tiles(range: TileRange): DecodedTile[] {
    const tiles: DecodedTile[] = [];
    for (let y = range.y0; y <= range.y1; y++)
      for (let x = range.x0; x <= range.x1; x++) {
        const tile = this.#cache.get(x, y);
        if (!tile)
          throw new Fault("internal", "A part of the map was asked for before it was read.", this.info.title);
        tiles.push(tile);
      }
    return tiles;
  }

  #stitch(range: TileRange, tiles: readonly DecodedTile[]): Stitched {
    const key = `${range.x0} ${range.y0} ${range.x1} ${range.y1}`;
    let stitched = this.#stitched.get(key);
    // Tiles that were dropped and read again are other objects: what was stitched of the old ones is still right.
    stitched ??= new Stitched(tiles);
    this.#stitched.delete(key);
    this.#stitched.set(key, stitched);
    let bytes = 0;
    for (const set of this.#stitched.values()) bytes += set.bytes;
    for (const [oldest, set] of this.#stitched) {
      const { size } = this.#stitched;
      if (size <= STITCHED_LEAST || (size <= STITCHED_KEPT && bytes <= STITCHED_BYTES)) break;
      this.#stitched.delete(oldest);
      bytes -= set.bytes;
    }
    return stitched;
  }
}

async function loadTile(
  archive: Archive,
  readers: LayerReaders,
  z: number,
  x: number,
  y: number,
): Promise<DecodedTile> {
  try {
    const own = await archive.readTile(z, x, y);
    if (own) return decodeTile(own, { z, x, y }, { z, x, y }, readers);
    // Tilers leave out tiles without features, and some leave out what the tile above shows as well:
    // where there is a tile above, what it shows here is all there is.
    if (z === archive.header.minZoom) return emptyTile("missing");
    const above = { z: z - 1, x: x >> 1, y: y >> 1 };
    const bytes = await archive.readTile(above.z, above.x, above.y);
    return bytes ? decodeTile(bytes, above, { z, x, y }, readers) : emptyTile("missing");
  } catch (thrown) {
    // The source itself failing is no property of the tile: it is not remembered.
    if (thrown instanceof Fault && thrown.code !== "bad-tile") throw thrown;
    return emptyTile("damaged");
  }
}
