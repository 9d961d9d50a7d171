/**
 * A map read without any of the program's own code: tiles by the reference readers of PMTiles and MVT, heights by fast-png and the
 * terrarium formula (Mapzen/AWS terrain tiles: R·256 + G + B/256 − 32768), lengths by GeographicLib. For checking courses.
 */
import { readFileSync } from "node:fs";
import { VectorTile } from "@mapbox/vector-tile";
import { decode } from "fast-png";
import * as geographic from "geographiclib-geodesic";
import { PbfReader } from "pbf";
import { PMTiles, type Source } from "pmtiles";

export type Xy = readonly [number, number];
const { Geodesic } = geographic as unknown as {
  Geodesic: { WGS84: { Inverse(...of: number[]): { s12: number } } };
};

export const metresBetween = (a: Xy, b: Xy): number => Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0]).s12;

export interface RawFeature {
  readonly role: string;
  readonly class: string;
  readonly widthM: number;
  readonly underground: boolean;
  /** Of a contour or a spot, as the map writes it; null where it has none. */
  readonly height: number | null;
  /** Point, lines or rings, longitude and latitude. */
  readonly type: 1 | 2 | 3;
  readonly parts: readonly (readonly Xy[])[];
  readonly box: readonly [west: number, east: number, south: number, north: number];
}

const bytesOf = (path: string): Source => {
  const bytes = readFileSync(path);
  return {
    getKey: () => path,
    getBytes: async (from, length) => ({
      data: bytes.buffer.slice(bytes.byteOffset + from, bytes.byteOffset + from + length),
    }),
  };
};

const tileOf = ([lon, lat]: Xy, z: number): Xy => {
  const n = 2 ** z;
  const y = (1 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI) / 2;
  return [((lon + 180) / 360) * n, y * n];
};

export class RawMap {
  private constructor(
    readonly features: readonly RawFeature[],
    readonly bounds: readonly [number, number, number, number],
    private readonly heights: (x: number, y: number) => number,
    /** Samples around the Earth. */
    private readonly samples: number,
  ) {}

  /** All of a small archive. */
  static async open(base: string): Promise<RawMap> {
    const archive = new PMTiles(bytesOf(`${base}.pmtiles`));
    const header = await archive.getHeader();
    const bounds = [header.minLon, header.minLat, header.maxLon, header.maxLat] as const;
    const z = header.maxZoom;
    const [x0, y0] = tileOf([bounds[0], bounds[3]], z).map(Math.floor) as [number, number];
    const [x1, y1] = tileOf([bounds[2], bounds[1]], z).map(Math.floor) as [number, number];
    const features: RawFeature[] = [];
    for (let x = x0; x <= x1; x++)
      for (let y = y0; y <= y1; y++) {
        const reply = await archive.getZxy(z, x, y);
        if (!reply) continue;
        const tile = new VectorTile(new PbfReader(new Uint8Array(reply.data)));
        for (const [role, layer] of Object.entries(tile.layers))
          for (let i = 0; i < layer.length; i++) {
            const feature = layer.feature(i);
            const { geometry } = feature.toGeoJSON(x, y, z);
            const { class: kind, width, tunnel, ele } = feature.properties;
            const parts = partsOf(geometry as { type: string; coordinates: unknown });
            features.push({
              role,
              class: String(kind ?? ""),
              widthM: Number(width ?? 0),
              underground: tunnel === "yes",
              height: ele === undefined ? null : Number(ele),
              type: feature.type as 1 | 2 | 3,
              parts,
              box: boxOf(parts.flat()),
            });
          }
      }
    return new RawMap(features, bounds, ...(await heightsOf(`${base}.terrain.pmtiles`, bounds)));
  }

  /** Nearest sample: within a cell or so of the ground. */
  heightAt(at: Xy): number {
    const [x, y] = tileOf(at, Math.log2(this.samples));
    return this.heights(Math.floor(x), Math.floor(y));
  }

  /** Bilinear between the samples' middles: where cells are long, the step from one to the next is no slope of the ground. */
  smoothAt(at: Xy): number {
    const [x, y] = tileOf(at, Math.log2(this.samples)).map((pixels) => pixels - 0.5) as [number, number];
    const [i, j] = [Math.floor(x), Math.floor(y)];
    const row = (k: number): number => this.heights(i, k) * (1 - x + i) + this.heights(i + 1, k) * (x - i);
    return row(j) * (1 - y + j) + row(j + 1) * (y - j);
  }
}

const boxOf = (all: readonly Xy[]): RawFeature["box"] => {
  const [xs, ys] = [all.map(([x]) => x), all.map(([, y]) => y)];
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
};

function partsOf({ type, coordinates }: { type: string; coordinates: unknown }): Xy[][] {
  switch (type) {
    case "Point":
      return [[coordinates as Xy]];
    case "MultiPoint":
    case "LineString":
      return [coordinates as Xy[]];
    case "MultiLineString":
    case "Polygon":
      return coordinates as Xy[][];
    default:
      return (coordinates as Xy[][][]).flat();
  }
}

/** The samples by their place in the whole picture of the Earth, and how many it is across. */
async function heightsOf(
  path: string,
  [west, south, east, north]: RawMap["bounds"],
): Promise<readonly [(x: number, y: number) => number, number]> {
  const archive = new PMTiles(bytesOf(path));
  const { maxZoom: z } = await archive.getHeader();
  const tiles = new Map<string, { data: ArrayLike<number>; width: number; channels: number }>();
  const [x0, y0] = tileOf([west, north], z).map(Math.floor) as [number, number];
  const [x1, y1] = tileOf([east, south], z).map(Math.floor) as [number, number];
  for (let x = x0; x <= x1; x++)
    for (let y = y0; y <= y1; y++) {
      const reply = await archive.getZxy(z, x, y);
      if (reply) tiles.set(`${x} ${y}`, decode(new Uint8Array(reply.data)));
    }
  const size = [...tiles.values()][0]?.width ?? 256;
  const heightOf = (x: number, y: number): number => {
    const tile = tiles.get(`${Math.floor(x / size)} ${Math.floor(y / size)}`);
    if (!tile) return NaN;
    const i = ((y % size) * size + (x % size)) * tile.channels;
    const [r, g, b] = [tile.data[i], tile.data[i + 1], tile.data[i + 2]] as [number, number, number];
    return r * 256 + g + b / 256 - 32768;
  };
  return [heightOf, size * 2 ** z];
}
