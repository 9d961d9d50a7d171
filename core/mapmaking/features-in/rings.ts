/** Rings out of pieces of line, and polygons out of rings. */

/** A piece of line with a name for each end: pieces whose ends have the same name are joined there. */
export interface RingPiece {
  readonly from: number;
  readonly to: number;
  readonly coords: Float64Array;
}

/**
 * Joins pieces end to end into closed rings, each piece once.
 * @returns the rings, and how many pieces close no ring
 */
export function joinRings(pieces: readonly RingPiece[]): { rings: Float64Array[]; left: number } {
  const byEnd = new Map<number, number[]>();
  const note = (end: number, piece: number): void => {
    const there = byEnd.get(end);
    if (there) there.push(piece);
    else byEnd.set(end, [piece]);
  };
  const used = new Uint8Array(pieces.length);
  const rings: Float64Array[] = [];
  pieces.forEach((piece, k) => {
    if (piece.from === piece.to) {
      used[k] = 1;
      rings.push(piece.coords);
      return;
    }
    note(piece.from, k);
    note(piece.to, k);
  });
  const take = (end: number): number | undefined => {
    const there = byEnd.get(end);
    for (let k = there?.pop(); k !== undefined; k = there?.pop()) if (!used[k]) return k;
    return undefined;
  };
  let left = 0;
  for (let k = 0; k < pieces.length; k++) {
    if (used[k]) continue;
    used[k] = 1;
    const chain: { readonly coords: Float64Array; readonly turned: boolean }[] = [];
    const start = pieces[k]!.from;
    let end = pieces[k]!.to;
    chain.push({ coords: pieces[k]!.coords, turned: false });
    while (end !== start) {
      const next = take(end);
      if (next === undefined) break;
      used[next] = 1;
      const turned = pieces[next]!.to === end;
      chain.push({ coords: pieces[next]!.coords, turned });
      end = turned ? pieces[next]!.from : pieces[next]!.to;
    }
    if (end === start) rings.push(strung(chain));
    else left += chain.length;
  }
  return { rings, left };
}

function strung(chain: readonly { readonly coords: Float64Array; readonly turned: boolean }[]): Float64Array {
  const length = chain.reduce((sum, { coords }) => sum + coords.length - 2, 2);
  const ring = new Float64Array(length);
  let at = 0;
  for (const { coords, turned } of chain) {
    const n = coords.length / 2;
    // The last position of a piece is the first of the next.
    for (let i = 0; i < n - 1; i++) {
      const k = turned ? n - 1 - i : i;
      ring[at++] = coords[2 * k]!;
      ring[at++] = coords[2 * k + 1]!;
    }
  }
  ring[at] = ring[0]!;
  ring[at + 1] = ring[1]!;
  return ring;
}

interface Measured {
  readonly ring: Float64Array;
  readonly area: number;
  readonly box: readonly [number, number, number, number];
}

/**
 * Polygons from rings that say nothing of each other: a ring inside an odd number of larger ones is a hole in the
 * smallest of them. Winding does not matter. Rings without area are left out.
 */
export function nestRings(rings: readonly Float64Array[]): Float64Array[][] {
  // Whatever its area: a bow tie has none, and is untied later.
  if (rings.length === 1) return rings[0]!.length >= 8 ? [[rings[0]!]] : [];
  const measured: Measured[] = rings
    .map((ring) => ({ ring, area: Math.abs(twiceArea(ring)), box: boxOf(ring) }))
    .filter(({ area }) => area > 0)
    .sort((a, b) => b.area - a.area);
  const polygons: Float64Array[][] = [];
  const polygonOf = new Map<Measured, Float64Array[]>();
  measured.forEach((one, k) => {
    let depth = 0;
    let around: Measured | null = null;
    for (let j = 0; j < k; j++) {
      const other = measured[j]!;
      if (!boxInside(one.box, other.box) || !ringInside(one.ring, other.ring)) continue;
      depth++;
      around = other; // the smallest so far: they come by size
    }
    const outer = depth % 2 === 1 && around ? polygonOf.get(around) : undefined;
    if (outer) outer.push(one.ring);
    else {
      const polygon = [one.ring];
      polygons.push(polygon);
      polygonOf.set(one, polygon);
    }
  });
  return polygons;
}

/** Polygons from rings that are known to run around areas and around holes; holes outside of all areas are left out. */
export function ringsInto(outer: readonly Float64Array[], holes: readonly Float64Array[]): Float64Array[][] {
  const areas = outer
    .map((ring) => ({ rings: [ring], area: Math.abs(twiceArea(ring)), box: boxOf(ring) }))
    .filter(({ area }) => area > 0)
    .sort((a, b) => a.area - b.area);
  for (const hole of holes) {
    const box = boxOf(hole);
    areas.find((one) => boxInside(box, one.box) && ringInside(hole, one.rings[0]!))?.rings.push(hole);
  }
  return areas.map(({ rings }) => rings);
}

function twiceArea(ring: Float64Array): number {
  let sum = 0;
  const [x0, y0] = [ring[0] ?? 0, ring[1] ?? 0];
  for (let i = 0; i + 3 < ring.length; i += 2)
    sum += (ring[i]! - x0) * (ring[i + 3]! - y0) - (ring[i + 2]! - x0) * (ring[i + 1]! - y0);
  return sum;
}

export function boxOf(coords: Float64Array): [west: number, south: number, east: number, north: number] {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 1 < coords.length; i += 2) {
    west = Math.min(west, coords[i]!);
    east = Math.max(east, coords[i]!);
    south = Math.min(south, coords[i + 1]!);
    north = Math.max(north, coords[i + 1]!);
  }
  return [west, south, east, north];
}

const boxInside = (a: Measured["box"], b: Measured["box"]): boolean =>
  a[0] >= b[0] && a[1] >= b[1] && a[2] <= b[2] && a[3] <= b[3];

/** Whether a ring lies in another: by the first of its positions that is not on the other's edge. */
function ringInside(ring: Float64Array, outer: Float64Array): boolean {
  for (let i = 0; i + 1 < ring.length; i += 2) {
    const side = pointIn(outer, ring[i]!, ring[i + 1]!);
    if (side !== 0) return side > 0;
  }
  // Every position on the edge: the middle of the first side decides.
  return pointIn(outer, (ring[0]! + ring[2]!) / 2, (ring[1]! + ring[3]!) / 2) > 0;
}

/** 1 inside, −1 outside, 0 on the edge. */
export function pointIn(ring: ArrayLike<number>, x: number, y: number): -1 | 0 | 1 {
  let inside = false;
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const [x0, y0, x1, y1] = [ring[i]!, ring[i + 1]!, ring[i + 2]!, ring[i + 3]!];
    const cross = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0);
    if (
      cross === 0 &&
      x >= Math.min(x0, x1) &&
      x <= Math.max(x0, x1) &&
      y >= Math.min(y0, y1) &&
      y <= Math.max(y0, y1)
    )
      return 0;
    if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) inside = !inside;
  }
  return inside ? 1 : -1;
}
