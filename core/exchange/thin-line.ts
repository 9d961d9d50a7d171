/**
 * Fewer positions for a line on the ellipsoid.
 * Source: D. H. Douglas and T. K. Peucker, Cartographica 10 (1973) 112–122. Distances are taken in space: across the
 * plane through both ends of a leg and the vertical at its middle, which on the ground is the leg (normal section and
 * geodesic part by under a centimetre in 100 km).
 */
import { Fault } from "../fault.ts";
import { E2, SEMI_MAJOR_M } from "../geodesy/ellipsoid.ts";
import { DEG } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";

export interface Thinned {
  /** Indices of the positions that stay, ascending, both ends among them. */
  readonly kept: readonly number[];
  /** How far the position farthest off lies from the leg that now passes it, metres. */
  readonly largestM: number;
}

/** A second or two of work; a line that needs more folds back on itself thousands of times. No source. */
const MOST_STEPS = 12_000_000;

/** Earth-centred coordinates on the ellipsoid, three to a position, metres. */
function inSpace(positions: readonly LonLat[]): Float64Array {
  const xyz = new Float64Array(3 * positions.length);
  positions.forEach(([lon, lat], i) => {
    const s = Math.sin(lat * DEG);
    const n = SEMI_MAJOR_M / Math.sqrt(1 - E2 * s * s);
    const c = n * Math.cos(lat * DEG);
    xyz.set([c * Math.cos(lon * DEG), c * Math.sin(lon * DEG), n * (1 - E2) * s], 3 * i);
  });
  return xyz;
}

/**
 * @param toleranceM no dropped position lies farther than this from its leg; 0 drops only what lies on it
 * @throws Fault "bad-argument" for a tolerance that is none, "bad-features" for a line that takes too long
 */
export function thinLine(positions: readonly LonLat[], toleranceM: number): Thinned {
  if (!(toleranceM >= 0) || toleranceM > 100_000)
    throw new Fault("bad-argument", "A tolerance is a length from 0 to 100 km.");
  const xyz = inSpace(positions);
  const keep = new Uint8Array(positions.length);
  keep[0] = keep[positions.length - 1] = 1;
  const stack = [0, positions.length - 1];
  let largestM = 0;
  let steps = 0;
  while (stack.length > 1) {
    const b = stack.pop() as number;
    const a = stack.pop() as number;
    steps += b - a;
    if (steps > MOST_STEPS)
      throw new Fault(
        "bad-features",
        "The line is too tangled to be thinned.",
        `a line of ${positions.length} positions`,
        "Save a shorter part of it.",
      );
    const off = offLeg(xyz, a, b);
    let worst = -1;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const d = off(i);
      if (d > worst) [worst, at] = [d, i];
    }
    if (at < 0) continue;
    if (worst <= toleranceM) {
      largestM = Math.max(largestM, worst);
      continue;
    }
    keep[at] = 1;
    stack.push(a, at, at, b);
  }
  return { kept: [...keep.keys()].filter((i) => keep[i] === 1), largestM };
}

/** Distance of a position from the leg between two others: across it beside it, to the nearer end beyond its ends. */
function offLeg(xyz: Float64Array, a: number, b: number): (i: number) => number {
  const v = (i: number, k: number): number => xyz[3 * i + k] as number;
  const [ax, ay, az] = [v(a, 0), v(a, 1), v(a, 2)];
  const [dx, dy, dz] = [v(b, 0) - ax, v(b, 1) - ay, v(b, 2) - az];
  const length2 = dx * dx + dy * dy + dz * dz;
  // The ellipsoid's vertical at the middle.
  const [ux, uy, uz] = [ax + dx / 2, ay + dy / 2, (az + dz / 2) / (1 - E2)];
  const [nx, ny, nz] = [dy * uz - dz * uy, dz * ux - dx * uz, dx * uy - dy * ux];
  const n = Math.hypot(nx, ny, nz);
  return (i) => {
    const [px, py, pz] = [v(i, 0) - ax, v(i, 1) - ay, v(i, 2) - az];
    const t = length2 > 0 ? (px * dx + py * dy + pz * dz) / length2 : 0;
    if (t <= 0 || n === 0) return Math.hypot(px, py, pz);
    if (t >= 1) return Math.hypot(px - dx, py - dy, pz - dz);
    return Math.abs(px * nx + py * ny + pz * nz) / n;
  };
}
