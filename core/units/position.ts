import { Fault } from "../fault.ts";

/** Longitude and latitude, degrees WGS 84, in the order of RFC 7946 §3.1.1. */
export type LonLat = readonly [lon: number, lat: number];

/** West, south, east, north, degrees WGS 84, as in RFC 7946 §5. West ≤ east: no box here spans ±180°. */
export type Bbox = readonly [west: number, south: number, east: number, north: number];

/**
 * The position, if it is one.
 * @throws Fault "bad-argument" when a coordinate is not finite, latitude is beyond ±90° or longitude beyond ±180°
 */
export function checkLonLat(position: LonLat, where: string | null = null): LonLat {
  const [lon, lat] = position;
  if (!Number.isFinite(lon) || !Number.isFinite(lat))
    throw new Fault(
      "bad-argument",
      `A position needs two numbers, not ${String(lon)}, ${String(lat)}.`,
      where,
    );
  if (Math.abs(lat) > 90)
    throw new Fault("bad-argument", `Latitude ${lat}° does not exist: it runs from −90° to 90°.`, where);
  if (Math.abs(lon) > 180)
    throw new Fault("bad-argument", `Longitude ${lon}° is outside −180° to 180°.`, where);
  return position;
}

export function bboxOf(positions: Iterable<LonLat>): Bbox | null {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [lon, lat] of positions) {
    west = Math.min(west, lon);
    east = Math.max(east, lon);
    south = Math.min(south, lat);
    north = Math.max(north, lat);
  }
  return west <= east ? [west, south, east, north] : null;
}

export function bboxesMeet(a: Bbox, b: Bbox): boolean {
  return a[0] <= b[2] && b[0] <= a[2] && a[1] <= b[3] && b[1] <= a[3];
}

/** The box grown by a distance in metres on every side (to about 1 %, meant for searching). */
export function growBbox(box: Bbox, metres: number): Bbox {
  const dLat = metres / 110_574;
  const widest = Math.min(89.9, Math.max(Math.abs(box[1]), Math.abs(box[3])) + dLat);
  const dLon = metres / (111_320 * Math.cos((widest * Math.PI) / 180));
  return [box[0] - dLon, box[1] - dLat, box[2] + dLon, box[3] + dLat];
}

/** The smallest box that holds both. */
export const unionBbox = (a: Bbox, b: Bbox): Bbox => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
];
