/** What has a name on the map, each once, with a place to go to. */
import type { MapFeatures } from "../../core/map/features.ts";
import type { Kind } from "../../core/map/kinds.ts";
import type { Bbox, LonLat } from "../../core/units/position.ts";

export interface NamedPlace {
  readonly name: string;
  readonly kind: Kind;
  /** Of a summit its place, of a line or an area a place on it about its middle. */
  readonly lonLat: LonLat;
  /** Metres above the map's datum; null where the map does not say. */
  readonly elevationM: number | null;
  /** `lonLat` is where it stands, and not only its middle. */
  readonly spot: boolean;
}

/** The edges of what is named anyway. */
const EDGES: ReadonlySet<Kind> = new Set(["woodEdge", "shore", "contour"]);

/**
 * Things of one name and kind are one: the largest of them gives the place.
 * @param bbox prepared before
 */
export function namedPlaces(map: MapFeatures, bbox: Bbox): NamedPlace[] {
  const best = new Map<string, { readonly size: number; readonly place: NamedPlace }>();
  const put = (size: number, place: NamedPlace): void => {
    const key = `${place.kind} ${place.name}`;
    if (size > (best.get(key)?.size ?? -1)) best.set(key, { size, place });
  };
  for (const { name, kind, lonLat, elevationM } of map.points(bbox))
    if (name)
      put(0, { name, kind, lonLat, elevationM: Number.isFinite(elevationM) ? elevationM : null, spot: true });
  for (const { name, kind, coords } of map.lines(bbox))
    if (name && !EDGES.has(kind))
      put(coords.length, { name, kind, lonLat: middleOf(coords), elevationM: null, spot: false });
  for (const { name, kind, rings } of map.areas(bbox)) {
    const outer = rings[0];
    if (name && outer)
      put(Math.abs(areaOf(outer)), { name, kind, lonLat: insideOf(outer), elevationM: null, spot: false });
  }
  return Array.from(best.values(), ({ place }) => place);
}

/** The vertex half-way along a line by its count: near enough to find a stream by. */
function middleOf(coords: Float64Array): LonLat {
  const i = 2 * Math.floor(coords.length / 4);
  return [coords[i] as number, coords[i + 1] as number];
}

/** Twice the signed area of a ring, square degrees. */
function areaOf(ring: Float64Array): number {
  let sum = 0;
  for (let i = 0; i + 3 < ring.length; i += 2)
    sum += (ring[i] as number) * (ring[i + 3] as number) - (ring[i + 2] as number) * (ring[i + 1] as number);
  return sum;
}

/** A place inside a ring: the middle of the widest stretch at half its height, so that bays are not taken for water. */
function insideOf(ring: Float64Array): LonLat {
  let [south, north] = [Infinity, -Infinity];
  for (let i = 1; i < ring.length; i += 2) {
    south = Math.min(south, ring[i] as number);
    north = Math.max(north, ring[i] as number);
  }
  const lat = (south + north) / 2;
  const crossings: number[] = [];
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const [x0, y0, x1, y1] = ring.subarray(i, i + 4) as unknown as [number, number, number, number];
    if (y0 < lat !== y1 < lat) crossings.push(x0 + ((lat - y0) / (y1 - y0)) * (x1 - x0));
  }
  crossings.sort((a, b) => a - b);
  let [widest, lon] = [-1, ring[0] as number];
  for (let i = 0; i + 1 < crossings.length; i += 2) {
    const [from, to] = [crossings[i] as number, crossings[i + 1] as number];
    if (to - from > widest) [widest, lon] = [to - from, (from + to) / 2];
  }
  return [lon, lat];
}
