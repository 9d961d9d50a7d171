/**
 * Lines of the demo map as places a metre apart, read without the program's own code: tiles by the reference readers of PMTiles
 * and MVT. A tile carries its neighbours' edges as well: of each line only what lies in the tile itself is kept, so that every
 * metre counts once.
 */
import { readFileSync } from "node:fs";
import { VectorTile } from "@mapbox/vector-tile";
import * as geographic from "geographiclib-geodesic";
import { PbfReader } from "pbf";
import { PMTiles } from "pmtiles";

export type Xy = readonly [number, number];

const { Geodesic } = geographic as unknown as {
  Geodesic: {
    WGS84: {
      Inverse(...of: number[]): { s12: number; azi1: number };
      Direct(...of: number[]): { lat2: number; lon2: number };
    };
  };
};

export function inverse(a: Xy, b: Xy): { readonly farM: number; readonly deg: number } {
  const { s12, azi1 } = Geodesic.WGS84.Inverse(a[1], a[0], b[1], b[0]);
  return { farM: s12, deg: (azi1 + 360) % 360 };
}

export function direct(a: Xy, deg: number, farM: number): Xy {
  const { lat2, lon2 } = Geodesic.WGS84.Direct(a[1], a[0], deg, farM);
  return [lon2, lat2];
}

export interface RawLines {
  /** Places a metre apart on lines of each kind. */
  readonly of: ReadonlyMap<string, readonly Xy[]>;
  readonly peaks: readonly Xy[];
}

export async function rawLines(url: URL, kinds: readonly string[]): Promise<RawLines> {
  const bytes = readFileSync(url);
  const archive = new PMTiles({
    getKey: () => url.href,
    getBytes: async (from, length) => ({
      data: bytes.buffer.slice(bytes.byteOffset + from, bytes.byteOffset + from + length),
    }),
  });
  const { minLon, minLat, maxLon, maxLat, maxZoom: z } = await archive.getHeader();
  const n = 2 ** z;
  const column = (lon: number): number => Math.floor(((lon + 180) / 360) * n);
  const row = (lat: number): number =>
    Math.floor(((1 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI) / 2) * n);
  const found = new Map<string, Xy[]>(kinds.map((kind) => [kind, []]));
  const peaks: Xy[] = [];
  for (let x = column(minLon); x <= column(maxLon); x++)
    for (let y = row(maxLat); y <= row(minLat); y++) {
      const reply = await archive.getZxy(z, x, y);
      if (!reply) continue;
      const own = ([lon, lat]: Xy): boolean => column(lon) === x && row(lat) === y;
      const { layers } = new VectorTile(new PbfReader(new Uint8Array(reply.data)));
      for (const [role, layer] of Object.entries(layers))
        for (let i = 0; i < layer.length; i++) {
          const feature = layer.feature(i);
          const { geometry } = feature.toGeoJSON(x, y, z) as unknown as {
            geometry: { type: string; coordinates: unknown };
          };
          if (role === "peak" && geometry.type === "Point" && own(geometry.coordinates as Xy))
            peaks.push(geometry.coordinates as Xy);
          const places = found.get(role === "stream" ? String(feature.properties.class) : role);
          if (!places || !geometry.type.endsWith("LineString")) continue;
          const parts = (
            geometry.type === "LineString" ? [geometry.coordinates] : geometry.coordinates
          ) as Xy[][];
          for (const part of parts) for (const at of everyMetre(part)) if (own(at)) places.push(at);
        }
    }
  return { of: found, peaks };
}

function* everyMetre(part: readonly Xy[]): Generator<Xy> {
  let left = 0.5;
  for (let i = 1; i < part.length; i++) {
    const [a, b] = [part[i - 1]!, part[i]!];
    const { farM } = inverse(a, b);
    for (; left < farM; left++)
      yield [a[0] + ((b[0] - a[0]) * left) / farM, a[1] + ((b[1] - a[1]) * left) / farM];
    left -= farM;
  }
}

/** Metres east and north of a place; over a kilometre within a decimetre. */
export const planeAround = ([lon, lat]: Xy): ((at: Xy) => Xy) => {
  const east = inverse([lon, lat], [lon + 0.01, lat]).farM / 0.01;
  const north = inverse([lon, lat], [lon, lat + 0.01]).farM / 0.01;
  return (at) => [(at[0] - lon) * east, (at[1] - lat) * north];
};

/** Metres from a place to the nearest part of a line of places. */
export function offLine(at: Xy, line: readonly Xy[]): number {
  const plane = planeAround(at);
  const flat = line.map(plane);
  let best = Infinity;
  flat.forEach(([bx, by], i) => {
    const [ax, ay] = flat[Math.max(0, i - 1)]!;
    const square = (bx - ax) ** 2 + (by - ay) ** 2;
    const f = square > 0 ? Math.min(1, Math.max(0, -(ax * (bx - ax) + ay * (by - ay)) / square)) : 0;
    best = Math.min(best, Math.hypot(ax + f * (bx - ax), ay + f * (by - ay)));
  });
  return best;
}
