import type { LonLat } from "../../core/units/position.ts";

/** The part of the ground that is in view, degrees. */
export interface ViewBox {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

export interface OverlayLine {
  readonly id: string;
  /** At least two. */
  readonly lonLats: readonly LonLat[];
}

/** Places evenly along the edge of a box and in its middle. */
export function edgeOf({ west, south, east, north }: ViewBox, parts = 8): LonLat[] {
  const places: LonLat[] = [[(west + east) / 2, (south + north) / 2]];
  for (let i = 0; i <= parts; i++) {
    const lon = west + ((east - west) * i) / parts;
    const lat = south + ((north - south) * i) / parts;
    places.push([lon, south], [lon, north], [west, lat], [east, lat]);
  }
  return places;
}
