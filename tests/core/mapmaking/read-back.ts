/** Reads archives back with the libraries other programs use: `pmtiles`, `@mapbox/vector-tile` and `fast-png`. */
import { VectorTile, type VectorTileFeature } from "@mapbox/vector-tile";
import { decode } from "fast-png";
import { PbfReader } from "pbf";
import { PMTiles } from "pmtiles";

export function openArchive(bytes: Uint8Array): PMTiles {
  return new PMTiles({
    getKey: () => "memory",
    getBytes: async (offset, length) => ({ data: bytes.slice(offset, offset + length).buffer }),
  });
}

export async function vectorTileAt(
  archive: PMTiles,
  z: number,
  x: number,
  y: number,
): Promise<VectorTile | null> {
  const tile = await archive.getZxy(z, x, y);
  return tile ? new VectorTile(new PbfReader(new Uint8Array(tile.data))) : null;
}

export interface Found {
  readonly layer: string;
  readonly tile: readonly [z: number, x: number, y: number];
  readonly feature: VectorTileFeature;
}

/** Every feature of a zoom within the archive's bounds. */
export async function featuresAt(archive: PMTiles, zoom: number): Promise<Found[]> {
  const header = await archive.getHeader();
  const x = (lon: number): number => Math.floor(((lon + 180) / 360) * 2 ** zoom);
  const y = (lat: number): number =>
    Math.floor(((1 - Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360)) / Math.PI) / 2) * 2 ** zoom);
  const found: Found[] = [];
  for (let tx = x(header.minLon); tx <= x(header.maxLon); tx++)
    for (let ty = y(header.maxLat); ty <= y(header.minLat); ty++) {
      const tile = await vectorTileAt(archive, zoom, tx, ty);
      for (const [layer, content] of Object.entries(tile?.layers ?? {}))
        for (let i = 0; i < content.length; i++)
          found.push({ layer, tile: [zoom, tx, ty], feature: content.feature(i) });
    }
  return found;
}

/**
 * Reads heights from terrain tiles of one zoom by bilinear interpolation between pixel centres.
 * Written apart from the program's own reader, so that the two can be held against each other.
 */
export async function terrainReader(bytes: Uint8Array): Promise<(lon: number, lat: number) => number> {
  const archive = openArchive(bytes);
  const { maxZoom, minLon, maxLon, minLat, maxLat } = await archive.getHeader();
  const span = 512 * 2 ** maxZoom;
  const pixelX = (lon: number): number => ((lon + 180) / 360) * span - 0.5;
  const pixelY = (lat: number): number =>
    ((1 - Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360)) / Math.PI) / 2) * span - 0.5;
  const tiles = new Map<string, ArrayLike<number>>();
  for (let x = Math.floor(pixelX(minLon) / 512); x <= Math.floor((pixelX(maxLon) + 1) / 512); x++)
    for (let y = Math.floor(pixelY(maxLat) / 512); y <= Math.floor((pixelY(minLat) + 1) / 512); y++) {
      const tile = await archive.getZxy(maxZoom, x, y);
      if (tile) tiles.set(`${x}/${y}`, decode(new Uint8Array(tile.data)).data);
    }
  const pixel = (x: number, y: number): number => {
    const tile = tiles.get(`${Math.floor(x / 512)}/${Math.floor(y / 512)}`);
    const at = ((y % 512) * 512 + (x % 512)) * 3;
    const [r, g, b] = [tile?.[at] ?? 0, tile?.[at + 1] ?? 0, tile?.[at + 2] ?? 0];
    return r === 0 && g === 0 && b === 0 ? Number.NaN : r * 256 + g + b / 256 - 32768;
  };
  return (lon, lat) => {
    const x = pixelX(lon);
    const y = pixelY(lat);
    const [i, j] = [Math.floor(x), Math.floor(y)];
    const [fx, fy] = [x - i, y - j];
    const top = pixel(i, j) * (1 - fx) + pixel(i + 1, j) * fx;
    const bottom = pixel(i, j + 1) * (1 - fx) + pixel(i + 1, j + 1) * fx;
    return top * (1 - fy) + bottom * fy;
  };
}
