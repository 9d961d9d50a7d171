/** Small archives in memory. */
import { pmtilesWriter } from "../../../../core/mapmaking/pmtiles-writer.ts";
import type { LegwrightMetadata } from "../../../../core/map/metadata.ts";
import { type ByteSource, bytesSource } from "../../../../core/map/source.ts";
import type { Bbox } from "../../../../core/units/position.ts";
import { type RawLayer, vectorTileBytes } from "./vector-tile-bytes.ts";

export interface RawTile {
  readonly z: number;
  readonly x: number;
  readonly y: number;
  readonly layers: readonly RawLayer[] | Uint8Array;
}

export const METADATA: LegwrightMetadata = {
  version: 1,
  id: "test-map",
  title: "Test map",
  roles: {
    contour: { layer: "contour", elevation: "ele", unit: "m", index: "index" },
    stream: { layer: "stream" },
    path: { layer: "path" },
    road: { layer: "road" },
    water: { layer: "water", elevation: "ele", unit: "m" },
    wood: { layer: "wood" },
    spotHeight: { layer: "spotHeight", elevation: "ele", unit: "m" },
    peak: { layer: "peak", elevation: "ele", unit: "m" },
  },
  interval: { value: 10, unit: "m" },
  source: "made for a test",
  date: "2026",
  attribution: null,
  datum: null,
  invented: true,
  elevationCellM: 10,
};

export function archiveBytes(
  tiles: readonly RawTile[],
  bounds: Bbox,
  metadata: object = { name: "Test map", legwright: METADATA },
): Uint8Array {
  const writer = pmtilesWriter("mvt");
  for (const { z, x, y, layers } of tiles)
    writer.add(z, x, y, layers instanceof Uint8Array ? layers : vectorTileBytes(layers));
  return Buffer.concat(writer.finish({ bounds, metadata: { ...metadata } }).pieces);
}

export const archiveSource = (...args: Parameters<typeof archiveBytes>): ByteSource =>
  bytesSource("test.pmtiles", archiveBytes(...args));
