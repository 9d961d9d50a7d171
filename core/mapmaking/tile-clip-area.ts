/** Cuts areas in whole-number coordinates to a box, keeping pieces apart and holes with their piece. */
import { type Box, boxOf, twiceArea } from "./tile-clip.ts";

/** A piece of a ring inside the box, both ends on the box's edge. */
interface Piece {
  readonly coords: number[];
  /** Where along the box's edge it comes in and goes out, 0–4 clockwise from the north-west corner. */
  readonly enters: number;
  readonly leaves: number;
}

const corner = ({ x0, y0, x1, y1 }: Box, k: number): readonly [number, number] =>
  k === 0 ? [x0, y0] : k === 1 ? [x1, y0] : k === 2 ? [x1, y1] : [x0, y1];

function alongEdge({ x0, y0, x1, y1 }: Box, x: number, y: number): number {
  if (y === y0) return (x - x0) / (x1 - x0);
  if (x === x1) return 1 + (y - y0) / (y1 - y0);
  if (y === y1) return 2 + (x1 - x) / (x1 - x0);
  return 3 + (y1 - y) / (y1 - y0);
}

/** The pieces of a ring inside the box; the ring has at least one position outside. */
function piecesOf(ring: Int32Array, box: Box): Piece[] {
  const n = ring.length / 2 - 1;
  const outside = (i: number): boolean => {
    const x = ring[2 * i]!;
    const y = ring[2 * i + 1]!;
    return x < box.x0 || x > box.x1 || y < box.y0 || y > box.y1;
  };
  let start = 0;
  while (start < n && !outside(start)) start++;
  const pieces: Piece[] = [];
  let coords: number[] = [];
  let enters = 0;
  for (let step = 0; step < n; step++) {
    const i = (start + step) % n;
    const ax = ring[2 * i]!;
    const ay = ring[2 * i + 1]!;
    const bx = ring[2 * i + 2]!;
    const by = ring[2 * i + 3]!;
    // Liang and Barsky: the share of the side that lies inside, and which edge cuts it.
    let t0 = 0;
    let t1 = 1;
    let entrySide = -1;
    let exitSide = -1;
    const sides = [box.x0 - ax, ax - box.x1, box.y0 - ay, ay - box.y1];
    const speeds = [bx - ax, ax - bx, by - ay, ay - by];
    let misses = false;
    for (let k = 0; k < 4; k++) {
      const q = sides[k]!;
      const p = speeds[k]!;
      if (p === 0) misses ||= q > 0;
      else if (p > 0) {
        if (q / p > t0) [t0, entrySide] = [q / p, k];
      } else if (q / p < t1) [t1, exitSide] = [q / p, k];
    }
    if (misses || t0 >= t1) continue;
    const at = (t: number, side: number): readonly [number, number] => {
      const x = side === 0 ? box.x0 : side === 1 ? box.x1 : ax + t * (bx - ax);
      const y = side === 2 ? box.y0 : side === 3 ? box.y1 : ay + t * (by - ay);
      return [x, y];
    };
    if (entrySide >= 0) {
      const [x, y] = at(t0, entrySide);
      enters = alongEdge(box, x, y);
      coords = [x, y];
    }
    if (exitSide >= 0) {
      const [x, y] = at(t1, exitSide);
      coords.push(x, y);
      pieces.push({ coords, enters, leaves: alongEdge(box, x, y) });
    } else coords.push(bx, by);
  }
  return pieces;
}

/** Joins pieces along the box's edge: the inside lies to the right, so from each way out clockwise to the next way in. */
function joinAlongEdge(pieces: readonly Piece[], box: Box): number[][] {
  const byEntry = [...pieces].sort((a, b) => a.enters - b.enters);
  const used = new Set<Piece>();
  const rings: number[][] = [];
  for (const first of byEntry) {
    if (used.has(first)) continue;
    const ring: number[] = [];
    let piece = first;
    do {
      used.add(piece);
      ring.push(...piece.coords);
      const from = piece.leaves;
      const next = byEntry.find((other) => other.enters >= from) ?? byEntry[0]!;
      const to = next.enters >= from ? next.enters : next.enters + 4;
      for (let k = Math.floor(from) + 1; k <= to; k++) ring.push(...corner(box, k % 4));
      piece = next;
    } while (!used.has(piece));
    rings.push(ring);
  }
  return rings;
}

/** Whether a position is inside a ring, by counting crossings of a ray. */
function inRing(ring: ArrayLike<number>, x: number, y: number): boolean {
  let inside = false;
  for (let i = 0; i + 3 < ring.length; i += 2) {
    const y0 = ring[i + 1]!;
    const y1 = ring[i + 3]!;
    if (y0 > y !== y1 > y && x < ring[i]! + ((y - y0) / (y1 - y0)) * (ring[i + 2]! - ring[i]!))
      inside = !inside;
  }
  return inside;
}

/** Rounds, drops repeated positions, closes; null when nothing is left of the ring or it turned over. */
function wholeRing(coords: ArrayLike<number>, outer: boolean): Int32Array | null {
  const out: number[] = [];
  for (let i = 0; i + 1 < coords.length; i += 2) {
    const x = Math.round(coords[i]!);
    const y = Math.round(coords[i + 1]!);
    if (out.length === 0 || x !== out.at(-2) || y !== out.at(-1)) out.push(x, y);
  }
  if (out.length >= 2 && (out[0] !== out.at(-2) || out[1] !== out.at(-1))) out.push(out[0]!, out[1]!);
  const ring = Int32Array.from(out);
  const area = twiceArea(ring);
  return ring.length >= 8 && (outer ? area > 0 : area < 0) ? ring : null;
}

/**
 * The area inside a box of whole numbers, grown by half a unit so that no position lies on its edge.
 * @param rings one outer ring, clockwise on a screen whose y points down, then its holes, the other way round;
 *   each closed and free of self-crossings
 * @returns polygons, each an outer ring and its holes, wound alike
 */
export function clipArea(rings: readonly Int32Array[], { x0, y0, x1, y1 }: Box): Int32Array[][] {
  const box: Box = { x0: x0 - 0.5, y0: y0 - 0.5, x1: x1 + 0.5, y1: y1 + 0.5 };
  const pieces: Piece[] = [];
  const within: Int32Array[] = [];
  let covers = true;
  rings.forEach((ring, k) => {
    const b = boxOf(ring);
    if (b.x0 > box.x0 && b.x1 < box.x1 && b.y0 > box.y0 && b.y1 < box.y1) {
      within.push(ring);
      if (k === 0) covers = false;
      return;
    }
    const found = b.x0 > box.x1 || b.x1 < box.x0 || b.y0 > box.y1 || b.y1 < box.y0 ? [] : piecesOf(ring, box);
    pieces.push(...found);
    if (found.length === 0 && inRing(ring, box.x0, box.y0) !== (k === 0)) covers = false;
  });

  const outers: number[][] = joinAlongEdge(pieces, box);
  if (pieces.length === 0 && covers) outers.push([0, 1, 2, 3, 0].flatMap((k) => [...corner(box, k)]));
  const holes: Int32Array[] = [];
  for (const ring of within)
    if (ring === rings[0]) outers.push([...ring]);
    else holes.push(ring);

  const polygons: Int32Array[][] = [];
  for (const outer of outers) {
    const whole = wholeRing(outer, true);
    if (!whole) continue;
    const closed = [...outer, outer[0]!, outer[1]!];
    const mine = holes.filter((hole) => outers.length === 1 || inRing(closed, hole[0]!, hole[1]!));
    polygons.push([whole, ...mine.map((hole) => wholeRing(hole, false)).filter((ring) => ring !== null)]);
  }
  return polygons;
}
