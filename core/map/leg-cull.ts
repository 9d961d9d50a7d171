/**
 * Tells boxes that a leg surely misses, from longitudes and latitudes alone.
 * On the plane of longitude (shrunk by the cosine of latitude) and latitude the leg is a straight line but for a bow of
 * at most length² · tan(latitude) / 8R; twice that and a metre are allowed for.
 */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import { DEG } from "../units/angle.ts";

const METRES_PER_DEGREE = 111_132; // the mean degree of latitude on WGS 84
const EARTH_RADIUS_M = 6_371_000;

/**
 * @returns whether box number `run` of `boxes` (west, south, east, north, …) lies farther from the leg than `reachM`;
 * always false within 5° of a pole and for legs across ±180°, where such a plane is no help
 */
export function legCull(frame: LegFrame, reachM = 0): (boxes: Float64Array, run: number) => boolean {
  const [lonA, latA] = frame.from;
  const [lonB, latB] = frame.to;
  const steepest = Math.max(Math.abs(latA), Math.abs(latB));
  if (steepest > 85 || Math.abs(lonA - lonB) > 180 || !(frame.lengthM > 0)) return () => false;
  const kx = Math.cos(((latA + latB) / 2) * DEG) * METRES_PER_DEGREE;
  const ky = METRES_PER_DEGREE;
  const dx = (lonB - lonA) * kx;
  const dy = (latB - latA) * ky;
  const length = Math.hypot(dx, dy);
  const ux = dx / length;
  const uy = dy / length;
  // The shrinking itself is off by the change of the cosine over the box's distance: a share of the reach covers it.
  const margin = 1 + reachM * 1.02 + (frame.lengthM ** 2 * Math.tan(steepest * DEG)) / (4 * EARTH_RADIUS_M);
  return (boxes, run) => {
    const west = boxes[4 * run] as number;
    const south = boxes[4 * run + 1] as number;
    const east = boxes[4 * run + 2] as number;
    const north = boxes[4 * run + 3] as number;
    const cx = ((west + east) / 2 - lonA) * kx;
    const cy = ((south + north) / 2 - latA) * ky;
    const hx = ((east - west) / 2) * kx;
    const hy = ((north - south) / 2) * ky;
    const aside = Math.abs(cx * uy - cy * ux) - hx * Math.abs(uy) - hy * Math.abs(ux);
    if (aside > margin) return true;
    const along = cx * ux + cy * uy;
    const half = hx * Math.abs(ux) + hy * Math.abs(uy);
    // Metres of this plane are up to half a percent off: it takes the ellipsoid for a sphere.
    return along + half < -margin || along - half > length * 1.01 + margin;
  };
}
