/**
 * Contours smoothed, and thinned for smaller scales, such that they can never cross.
 *
 * Every vertex lies on an edge of the grid, and inside a cell a contour is a straight chord between two edges. As long
 * as each vertex stays on its own edge, and the vertices of an edge stay in their order, chords cannot cross: the ends
 * of two chords around a convex cell are never interleaved. Along an edge the height changes evenly, so neighbouring
 * contours are a whole interval of height apart there; a vertex that is moved by less than half an interval of height
 * cannot come upon one that is moved by less than half. Smoothing may use a quarter of the interval, thinning a fifth.
 * A vertex is left out only where the straight line that replaces it crosses the vertex's own edge within that limit,
 * which comes to the same as moving it there.
 *
 * Lines are thinned from one line of a mesh of `MESH` cells to the next: what is kept depends on nothing further away,
 * so that windows cut anywhere from a model give the same line.
 */
import type { HeightWindow } from "./height-source.ts";

/** Cells between places that are always kept. */
export const MESH = 16;
/** Least distance kept from samples, as in `contours`. */
const CLEAR = 1e-4;
/** How often each vertex is drawn half way to the straight line between its neighbours. */
const PASSES = 2;
/** How far smoothing may move a vertex: share of a cell … */
const MOST_CELLS = 0.25;
/** … metres of height, half of what models in whole metres are rounded to … */
const MOST_M = 0.5;
/** … and share of the interval. */
const MOST_INTERVALS = 0.25;
/** Share of the interval that thinning may use. */
const THIN_INTERVALS = 0.2;

/** Height difference along the edge that each vertex lies on, metres. */
export function edgeDrops(coords: Float64Array, window: HeightWindow): Float64Array {
  const { column, row, columns, heights } = window;
  const drops = new Float64Array(coords.length >> 1);
  for (let i = 0; i < drops.length; i++) {
    const x = coords[2 * i]! - column;
    const y = coords[2 * i + 1]! - row;
    const c = Math.floor(x);
    const r = Math.floor(y);
    const at = r * columns + c;
    drops[i] = Math.abs(heights[at + (x === c ? columns : 1)]! - heights[at]!);
  }
  return drops;
}

/**
 * Smooths a line in place; ends of open lines stay.
 * @param drops as `edgeDrops` gives them
 */
export function smooth(coords: Float64Array, drops: Float64Array, closed: boolean, stepM: number): void {
  const n = drops.length;
  const limitM = Math.min(MOST_M, MOST_INTERVALS * stepM);
  const first = coords.slice();
  let before = first;
  for (let pass = 0; pass < PASSES; pass++) {
    if (pass > 0) before = coords.slice();
    for (let i = closed ? 0 : 1; i < n - 1; i++) {
      const p = 2 * (i > 0 ? i - 1 : n - 2);
      const q = 2 * (i + 1);
      const axis = Number.isInteger(first[2 * i]!) ? 0 : 1;
      const fixed = first[2 * i + axis]!;
      const a = before[p + axis]!;
      const b = before[q + axis]!;
      if (a === b || (fixed - a) * (b - fixed) < 0) continue;
      const at = 2 * i + 1 - axis;
      const oa = before[p + 1 - axis]!;
      const straight = oa + ((before[q + 1 - axis]! - oa) * (fixed - a)) / (b - a);
      const own = first[at]!;
      const most = Math.min(MOST_CELLS, limitM / drops[i]!);
      const low = Math.floor(own);
      let moved = (before[at]! + straight) / 2;
      moved = Math.min(own + most, Math.max(own - most, moved));
      coords[at] = Math.min(low + 1 - CLEAR, Math.max(low + CLEAR, moved));
    }
    if (closed) {
      coords[2 * n - 2] = coords[0]!;
      coords[2 * n - 1] = coords[1]!;
    }
  }
}

export interface ThinScale {
  /** Tile units a column and a row are wide, roughly the same all over the model. */
  readonly unitsX: number;
  readonly unitsY: number;
  /** How far a line may move, tile units. */
  readonly tolerance: number;
  /** Interval between contours drawn at the scale, metres. */
  readonly stepM: number;
}

/** Larger than any measure of how much too far a line would move. */
const NEVER = 1e12;

/**
 * Which vertices of a line to keep; none of a ring that would be too small to see. Rings begin as `settled` has them.
 * Method between kept places: Douglas and Peucker, as in `simplify`.
 */
export function thin(
  coords: Float64Array,
  drops: Float64Array,
  closed: boolean,
  { unitsX, unitsY, tolerance, stepM }: ThinScale,
  smallest: number,
): Uint8Array {
  const n = drops.length;
  const keep = new Uint8Array(n);
  if (closed && isSmall(coords, unitsX, unitsY, smallest)) return keep;
  const limitM = THIN_INTERVALS * stepM;

  /** How many times too far vertex i would move if the line went straight from a to b, squared. */
  const excess = (i: number, a: number, b: number): number => {
    const ax = coords[2 * a]!;
    const ay = coords[2 * a + 1]!;
    const bx = coords[2 * b]!;
    const by = coords[2 * b + 1]!;
    const x = coords[2 * i]!;
    const y = coords[2 * i + 1]!;
    const dx = (bx - ax) * unitsX;
    const dy = (by - ay) * unitsY;
    const length2 = dx * dx + dy * dy;
    const px = (x - ax) * unitsX;
    const py = (y - ay) * unitsY;
    const t = length2 > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / length2)) : 0;
    const far2 = ((px - t * dx) ** 2 + (py - t * dy) ** 2) / (tolerance * tolerance);
    if (far2 > 1) return far2;
    const upright = Number.isInteger(x);
    const from = upright ? x - ax : y - ay;
    const to = upright ? bx - x : by - y;
    if (from * to < 0 || from + to === 0) return NEVER + far2;
    const share = from / (from + to);
    const own = upright ? y : x;
    const meets = upright ? ay + (by - ay) * share : ax + (bx - ax) * share;
    const low = Math.floor(own);
    if (meets <= low || meets >= low + 1) return NEVER + far2;
    const movedM = (Math.abs(meets - own) * drops[i]!) / limitM;
    return Math.max(far2, movedM * movedM);
  };
  const stack: number[] = [];
  const between = (first: number, last: number): void => {
    stack.push(first, last);
    while (stack.length > 0) {
      const b = stack.pop()!;
      const a = stack.pop()!;
      let worst = 1;
      let at = -1;
      for (let i = a + 1; i < b; i++) {
        const e = excess(i, a, b);
        if (e > worst) {
          worst = e;
          at = i;
        }
      }
      if (at < 0) continue;
      keep[at] = 1;
      stack.push(a, at, at, b);
    }
  };

  let last = 0;
  keep[0] = keep[n - 1] = 1;
  const far = closed && !hasMesh(coords) ? farthest(coords) : -1;
  for (let i = 1; i < n; i++) {
    if (!onMesh(coords, i) && i !== far && i !== n - 1) continue;
    keep[i] = 1;
    between(last, i);
    last = i;
  }
  let kept = 0;
  for (let i = 0; i < n; i++) kept += keep[i]!;
  return closed && kept < 4 ? keep.fill(0) : keep;
}

const onMesh = (coords: Float64Array, i: number): boolean =>
  coords[2 * i]! % MESH === 0 || coords[2 * i + 1]! % MESH === 0;

function hasMesh(coords: Float64Array): boolean {
  for (let i = 0; 2 * i < coords.length; i++) if (onMesh(coords, i)) return true;
  return false;
}

/** The vertex of a ring farthest from its first. */
function farthest(coords: Float64Array): number {
  let at = 1;
  let most = -1;
  for (let i = 1; 2 * i + 2 < coords.length; i++) {
    const d2 = (coords[2 * i]! - coords[0]!) ** 2 + (coords[2 * i + 1]! - coords[1]!) ** 2;
    if (d2 > most) [most, at] = [d2, i];
  }
  return at;
}

/** A ring turned so that it begins at a place that is kept whatever window it comes from: on the mesh, else its northernmost vertex. */
export function settled(ring: Float64Array): Float64Array {
  const n = ring.length / 2;
  let start = 0;
  for (let i = 0; i < n; i++) {
    if (onMesh(ring, i)) {
      start = i;
      break;
    }
    const up = ring[2 * i + 1]! - ring[2 * start + 1]!;
    if (up < 0 || (up === 0 && ring[2 * i]! < ring[2 * start]!)) start = i;
  }
  if (start === 0 || start === n - 1) return ring;
  const out = new Float64Array(ring.length);
  out.set(ring.subarray(2 * start, 2 * n - 2));
  out.set(ring.subarray(0, 2 * start + 2), 2 * (n - 1 - start));
  return out;
}

function isSmall(coords: Float64Array, unitsX: number, unitsY: number, smallest: number): boolean {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < coords.length; i += 2) {
    x0 = Math.min(x0, coords[i]!);
    x1 = Math.max(x1, coords[i]!);
    y0 = Math.min(y0, coords[i + 1]!);
    y1 = Math.max(y1, coords[i + 1]!);
    if ((x1 - x0) * unitsX >= smallest || (y1 - y0) * unitsY >= smallest) return false;
  }
  return true;
}
