/**
 * Areas in the whole-number grid of the map made fit for tiles: no ring crosses or touches itself or another along a
 * stretch, outer rings run clockwise on the screen and holes the other way. Source: MVT specification 2.1, §4.3.4.4.
 */
import Flatbush from "flatbush";
import { union } from "polyclip-ts";
import { boxOf } from "../tile-clip.ts";
import { wound } from "../vector-tiles.ts";

/** Times an area is untied and rounded again before it is given up. */
const TRIES = 3;
/** Sides from which on an index pays. */
const MANY_SIDES = 48;
/** Untying more sides, or more places where they meet, would take minutes. No source. */
const MOST_SIDES = 20_000;
const MOST_MEETINGS = 500;
/** Pairs of sides looked at before an area is given up: a real one has some per side. No source. */
const MOST_PAIRS = 20_000_000;

/** How many more meetings of sides may be untied; it is drawn on. */
export interface Budget {
  meetings: number;
}
/** For all areas of a map: half a minute's work. Real data have one in some thousand areas. No source. */
export const mapBudget = (): Budget => ({ meetings: 50_000 });

export interface Tidied {
  /** Polygons, each an outer ring and its holes. */
  readonly polygons: readonly (readonly Int32Array[])[];
  readonly how: "fine" | "untied" | "lost";
}

/** Drops repeated positions and rings of fewer than three sides. */
function cleanRings(rings: readonly Int32Array[]): Int32Array[] {
  const clean: Int32Array[] = [];
  for (const [k, ring] of rings.entries()) {
    const out = new Int32Array(ring.length);
    let n = 0;
    for (let i = 0; i + 1 < ring.length; i += 2) {
      const x = ring[i]!;
      const y = ring[i + 1]!;
      if (n > 0 && out[n - 2] === x && out[n - 1] === y) continue;
      out[n++] = x;
      out[n++] = y;
    }
    const kept = out.slice(0, n);
    if (n >= 8 && !isFlat(kept)) clean.push(kept);
    else if (k === 0) return [];
  }
  return clean;
}

/** Whether all positions lie on one line. The area does not tell: a bow tie has none. */
function isFlat(ring: Int32Array): boolean {
  const [x0, y0] = [ring[0]!, ring[1]!];
  let [ax, ay] = [0, 0];
  for (let i = 2; i + 1 < ring.length; i += 2) {
    const [bx, by] = [ring[i]! - x0, ring[i + 1]! - y0];
    if (ax * by - ay * bx !== 0) return false;
    if (bx !== 0 || by !== 0) [ax, ay] = [bx, by];
  }
  return true;
}

/**
 * An area whose edges cross becomes all that its outer ring runs around, once or several times, without the holes.
 * @param rings an outer ring and its holes, closed, wound in any direction
 * @param budget shared by the areas of a map, so that no file can keep it busy for ever
 * @returns no polygons when the area is too small for the grid ("fine") or could not be untied ("lost")
 */
export function tidyArea(rings: readonly Int32Array[], budget: Budget = { meetings: MOST_MEETINGS }): Tidied {
  let polygons: Int32Array[][] = [cleanRings(rings)].filter((polygon) => polygon.length > 0);
  for (let tries = 0; ; tries++) {
    if (polygons.every((polygon) => !isTied(polygon)))
      return { polygons: polygons.map(wound), how: tries === 0 ? "fine" : "untied" };
    const meetings = polygons.reduce((sum, polygon) => sum + tiedPairs(polygon, MOST_MEETINGS), 0);
    const tooMuch = meetings >= MOST_MEETINGS || meetings > budget.meetings || sidesOf(polygons) > MOST_SIDES;
    if (tries === TRIES || tooMuch) return { polygons: [], how: "lost" };
    budget.meetings -= meetings;
    try {
      polygons = untied(polygons);
    } catch {
      return { polygons: [], how: "lost" };
    }
  }
}

const sidesOf = (polygons: readonly (readonly Int32Array[])[]): number =>
  polygons.reduce((sum, polygon) => sum + polygon.reduce((n, ring) => n + ring.length / 2, 0), 0);

function untied(polygons: readonly (readonly Int32Array[])[]): Int32Array[][] {
  const plain = polygons.map((polygon) =>
    polygon.map((ring) => {
      const positions: [number, number][] = [];
      for (let i = 0; i + 1 < ring.length; i += 2) positions.push([ring[i]!, ring[i + 1]!]);
      return positions;
    }),
  );
  const [first, ...others] = plain;
  if (!first) return [];
  const { x0, y0, x1, y1 } = boxOf(Int32Array.from(polygons.flatMap(([outer]) => [...(outer ?? [])])));
  // Where sides all but overlap, the place where they meet is uncertain: the union lies within what it is made of.
  const within = (v: number, i: number): number =>
    i % 2 === 0 ? clamp(Math.round(v), x0, x1) : clamp(Math.round(v), y0, y1);
  return union(first, ...others)
    .map((polygon) => cleanRings(polygon.map((ring) => Int32Array.from(ring.flat(), within))))
    .filter((polygon) => polygon.length > 0);
}

const clamp = (v: number, least: number, most: number): number => Math.min(most, Math.max(least, v));

/** Whether any two sides of the rings cross, overlap, or touch where rings of one polygon must not. */
export const isTied = (rings: readonly Int32Array[]): boolean => tiedPairs(rings, 1) > 0;

/** How many pairs of sides do, counted up to `most`; `most` as well when there are too many pairs to look at. */
function tiedPairs(rings: readonly Int32Array[], most: number): number {
  let sides = 0;
  for (const ring of rings) sides += ring.length / 2 - 1;
  const ends = new Float64Array(4 * sides);
  const ringOf = new Int32Array(sides);
  /** Number of a side within its ring, and how many sides that has. */
  const place = new Int32Array(sides);
  let n = 0;
  rings.forEach((ring, r) => {
    for (let i = 0; i + 3 < ring.length; i += 2) {
      for (let k = 0; k < 4; k++) ends[4 * n + k] = ring[i + k]!;
      ringOf[n] = r;
      place[n] = i / 2;
      n++;
    }
  });
  /** Places where two rings touch in a point: one is allowed, two would cut the area in parts. */
  const touches = new Set<string>();
  const bad = (a: number, b: number): boolean => {
    const meeting = meet(ends, a, b);
    if (meeting === APART) return false;
    if (meeting === CROSSING) return true;
    const r = ringOf[a]!;
    if (r === ringOf[b]) {
      // Neighbours share an end by nature; anything more was told as crossing.
      const last = rings[r]!.length / 2 - 2;
      const gap = Math.abs(place[a]! - place[b]!);
      return gap !== 1 && gap !== last;
    }
    const at = `${Math.min(r, ringOf[b]!)} ${Math.max(r, ringOf[b]!)}`;
    const where = `${at} ${sharedPoint(ends, a, b)}`;
    if (touches.has(where)) return false;
    if (touches.has(at)) return true;
    touches.add(where).add(at);
    return false;
  };
  let found = 0;
  if (sides <= MANY_SIDES) {
    for (let a = 0; a < sides; a++)
      for (let b = a + 1; b < sides; b++) if (bad(a, b) && ++found >= most) return most;
    return found;
  }
  const index = new Flatbush(sides);
  for (let k = 0; k < sides; k++) index.add(...boxOfSide(ends, k));
  index.finish();
  let pairs = 0;
  for (let a = 0; a < sides; a++) {
    index.search(...boxOfSide(ends, a), (b) => {
      if (++pairs > MOST_PAIRS) found = most;
      else if (b > a && found < most && bad(a, b)) found++;
      return false;
    });
    if (found >= most) return most;
  }
  return found;
}

const boxOfSide = (ends: Float64Array, k: number): [x0: number, y0: number, x1: number, y1: number] => [
  Math.min(ends[4 * k]!, ends[4 * k + 2]!),
  Math.min(ends[4 * k + 1]!, ends[4 * k + 3]!),
  Math.max(ends[4 * k]!, ends[4 * k + 2]!),
  Math.max(ends[4 * k + 1]!, ends[4 * k + 3]!),
];

const APART = 0;
const TOUCHING = 1;
const CROSSING = 2;

/** How two sides meet: whole numbers below 2^26 apart, so that every product is exact. */
function meet(ends: Float64Array, a: number, b: number): typeof APART | typeof TOUCHING | typeof CROSSING {
  const [ax, ay, bx, by] = [ends[4 * a]!, ends[4 * a + 1]!, ends[4 * a + 2]!, ends[4 * a + 3]!];
  const [cx, cy, dx, dy] = [ends[4 * b]!, ends[4 * b + 1]!, ends[4 * b + 2]!, ends[4 * b + 3]!];
  const side = (px: number, py: number, qx: number, qy: number, rx: number, ry: number): number =>
    Math.sign((qx - px) * (ry - py) - (qy - py) * (rx - px));
  const c = side(ax, ay, bx, by, cx, cy);
  const d = side(ax, ay, bx, by, dx, dy);
  const e = side(cx, cy, dx, dy, ax, ay);
  const f = side(cx, cy, dx, dy, bx, by);
  if (c * d > 0 || e * f > 0) return APART;
  if (c * d < 0 && e * f < 0) return CROSSING;
  if (c === 0 && d === 0) {
    // On one line: along the longer axis of the first side.
    const axis = Math.abs(bx - ax) >= Math.abs(by - ay);
    const [a0, a1] = axis ? [Math.min(ax, bx), Math.max(ax, bx)] : [Math.min(ay, by), Math.max(ay, by)];
    const [b0, b1] = axis ? [Math.min(cx, dx), Math.max(cx, dx)] : [Math.min(cy, dy), Math.max(cy, dy)];
    const shared = Math.min(a1, b1) - Math.max(a0, b0);
    return shared < 0 ? APART : shared > 0 ? CROSSING : TOUCHING;
  }
  return TOUCHING;
}

/** Where two sides touch that do not lie on one line, or only end to end. */
function sharedPoint(ends: Float64Array, a: number, b: number): string {
  const [ax, ay, bx, by] = [ends[4 * a]!, ends[4 * a + 1]!, ends[4 * a + 2]!, ends[4 * a + 3]!];
  for (const j of [4 * b, 4 * b + 2]) {
    const [x, y] = [ends[j]!, ends[j + 1]!];
    const onLine = (bx - ax) * (y - ay) === (by - ay) * (x - ax);
    const between =
      Math.min(ax, bx) <= x && x <= Math.max(ax, bx) && Math.min(ay, by) <= y && y <= Math.max(ay, by);
    if (onLine && between) return `${x} ${y}`;
  }
  // Then an end of the first lies on the second.
  return sharedPoint(ends, b, a);
}

/** A place well inside an area, for its name: in the middle of the widest stretch through the middle. */
export function insideOf(rings: readonly Int32Array[]): readonly [x: number, y: number] {
  const outer = rings[0]!;
  const { y0, y1, x0, x1 } = boxOf(outer);
  let best = { width: -1, x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
  for (const share of [0.5, 0.4, 0.6, 0.3, 0.7]) {
    // Between the grid's rows, so that no corner lies on the line.
    const y = Math.floor(y0 + (y1 - y0) * share) + 0.5;
    const cuts: number[] = [];
    for (const ring of rings)
      for (let i = 0; i + 3 < ring.length; i += 2)
        if (ring[i + 1]! > y !== ring[i + 3]! > y)
          cuts.push(
            ring[i]! + ((y - ring[i + 1]!) / (ring[i + 3]! - ring[i + 1]!)) * (ring[i + 2]! - ring[i]!),
          );
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const width = cuts[k + 1]! - cuts[k]!;
      if (width > best.width * 1.1) best = { width, x: (cuts[k]! + cuts[k + 1]!) / 2, y };
    }
  }
  return [Math.round(best.x), Math.round(best.y)];
}
