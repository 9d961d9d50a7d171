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

/** To each side of an edge along a tile's side one is looked for the area. */
const BESIDE_M = 0.05;

/**
 * The area's outline as polylines of s, t. Cutting at a tile's side joins what leaves it and comes back by edges along the
 * side, there and back over ground that is not the area's: such edges, recognised by keeping one longitude or latitude,
 * are left out wherever the area lies to neither side of them, or to both.
 */
export function outlineOfArea(area: FramedArea): Float64Array[] {
  const found: Float64Array[] = [];
  const lonLats = area.area.rings.filter((ring) => ring.length >= 8);
  area.rings.forEach((st, k) => {
    const lonLat = lonLats[k] as Float64Array;
    let from = 0;
    for (let i = 0; i + 3 < st.length; i += 2) {
      const axis = lonLat[i] === lonLat[i + 2] ? 0 : lonLat[i + 1] === lonLat[i + 3] ? 1 : -1;
      if (axis < 0) continue;
      if (i > from) found.push(st.subarray(from, i + 2));
      found.push(...realParts(area, st, lonLat, i, axis));
      from = i + 2;
    }
    if (st.length - from >= 4) found.push(st.subarray(from));
  });
  return found;
}

/** The parts of the edge at number `i` of a ring that have the area to one side. */
function realParts(
  area: FramedArea,
  st: Float64Array,
  lonLat: Float64Array,
  i: number,
  axis: number,
): Float64Array[] {
  const [a, b] = [lonLat[i + 1 - axis] as number, lonLat[i + 3 - axis] as number];
  if (a === b) return [];
  const cuts = [0, 1];
  for (let k = 0; k < lonLat.length; k += 2)
    if (lonLat[k + axis] === lonLat[i + axis]) cuts.push(((lonLat[k + 1 - axis] as number) - a) / (b - a));
  const inside = [...new Set(cuts.filter((f) => f >= 0 && f <= 1))].toSorted((x, y) => x - y);
  const [s0, t0] = [st[i] as number, st[i + 1] as number];
  const [ds, dt] = [(st[i + 2] as number) - s0, (st[i + 3] as number) - t0];
  const length = Math.hypot(ds, dt);
  const parts: Float64Array[] = [];
  for (let k = 0; k + 1 < inside.length; k++) {
    const [f0, f1] = [inside[k] as number, inside[k + 1] as number];
    const [s, t] = [s0 + ((f0 + f1) / 2) * ds, t0 + ((f0 + f1) / 2) * dt];
    const side = (way: number): boolean =>
      isInArea(area, s - (way * BESIDE_M * dt) / length, t + (way * BESIDE_M * ds) / length);
    if (side(1) !== side(-1))
      parts.push(Float64Array.of(s0 + f0 * ds, t0 + f0 * dt, s0 + f1 * ds, t0 + f1 * dt));
  }
  return parts;
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
