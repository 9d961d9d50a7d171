/** Areas laid into a leg's frame, and pieces of one area that tiles have cut apart. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { AreaFeature } from "../../map/features.ts";

export interface FramedArea {
  readonly area: AreaFeature;
  /** Each s, t, s, t … metres in the leg's frame, first position repeated at the end. */
  readonly rings: readonly Float64Array[];
  readonly minS: number;
  readonly maxS: number;
  readonly minT: number;
  readonly maxT: number;
}

/** The areas in the frame of a leg; rings with fewer than four positions, and areas without rings, are left out. */
export function frameAreas(frame: LegFrame, areas: readonly AreaFeature[]): FramedArea[] {
  const framed: FramedArea[] = [];
  for (const area of areas) {
    const rings: Float64Array[] = [];
    let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
    for (const ring of area.rings) {
      const count = ring.length >> 1;
      if (count < 4) continue;
      const st = new Float64Array(2 * count);
      frame.project(ring, 0, count, st);
      for (let i = 0; i < 2 * count; i += 2) {
        const s = st[i] as number;
        const t = st[i + 1] as number;
        if (s < minS) minS = s;
        if (s > maxS) maxS = s;
        if (t < minT) minT = t;
        if (t > maxT) maxT = t;
      }
      rings.push(st);
    }
    if (rings.length > 0) framed.push({ area, rings, minS, maxS, minT, maxT });
  }
  return framed;
}

/** Whether a point of the frame lies inside, by the even-odd rule over all rings: holes are outside. */
export function isInArea({ rings, minS, maxS, minT, maxT }: FramedArea, s: number, t: number): boolean {
  if (s < minS || s > maxS || t < minT || t > maxT) return false;
  let inside = false;
  for (const st of rings)
    for (let i = 0; i + 3 < st.length; i += 2) {
      const t0 = st[i + 1] as number;
      const t1 = st[i + 3] as number;
      if (t0 > t === t1 > t) continue;
      const s0 = st[i] as number;
      if (s < s0 + ((t - t0) / (t1 - t0)) * ((st[i + 2] as number) - s0)) inside = !inside;
    }
  return inside;
}

/** Pieces cut by a tile's edge meet along it, but for the rounding of tile coordinates. */
const TOUCH_M = 1.5;

/** Areas that are one thing on the ground: the same kind, and the same name or, without names, touching. */
export function joinAreas(areas: readonly FramedArea[]): FramedArea[][] {
  const groups: FramedArea[][] = [];
  for (const next of areas) {
    const own = groups.filter((group) => group.some((other) => isSame(other, next)));
    for (const group of own) groups.splice(groups.indexOf(group), 1);
    groups.push([...own.flat(), next]);
  }
  return groups;
}

function isSame(a: FramedArea, b: FramedArea): boolean {
  if (a.area.kind !== b.area.kind || a.area.name !== b.area.name) return false;
  if (a.area.name !== null) return true;
  if (a.minS > b.maxS + TOUCH_M || b.minS > a.maxS + TOUCH_M) return false;
  if (a.minT > b.maxT + TOUCH_M || b.minT > a.maxT + TOUCH_M) return false;
  return hasVertexNear(a, b) || hasVertexNear(b, a);
}

function hasVertexNear(a: FramedArea, b: FramedArea): boolean {
  for (const ring of a.rings)
    for (let i = 0; i < ring.length; i += 2) {
      const s = ring[i] as number;
      const t = ring[i + 1] as number;
      if (s < b.minS - TOUCH_M || s > b.maxS + TOUCH_M || t < b.minT - TOUCH_M || t > b.maxT + TOUCH_M)
        continue;
      for (const other of b.rings)
        for (let k = 0; k + 3 < other.length; k += 2) if (distanceTo(other, k, s, t) <= TOUCH_M) return true;
    }
  return false;
}

/** From a point to the segment that begins at number `k` of a ring. */
function distanceTo(st: Float64Array, k: number, s: number, t: number): number {
  const s0 = st[k] as number;
  const t0 = st[k + 1] as number;
  const ds = (st[k + 2] as number) - s0;
  const dt = (st[k + 3] as number) - t0;
  const square = ds * ds + dt * dt;
  const f = square > 0 ? Math.min(1, Math.max(0, ((s - s0) * ds + (t - t0) * dt) / square)) : 0;
  return Math.hypot(s - s0 - f * ds, t - t0 - f * dt);
}
