/** Cuts lines and areas in whole-number coordinates to a box. */

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Bounding box of x, y pairs. */
export function boxOf(coords: Int32Array): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i + 1 < coords.length; i += 2) {
    const x = coords[i]!;
    const y = coords[i + 1]!;
    if (x < x0) x0 = x;
    if (x > x1) x1 = x;
    if (y < y0) y0 = y;
    if (y > y1) y1 = y;
  }
  return { x0, y0, x1, y1 };
}

/**
 * The parts of a line with x (axis 0) or y (axis 1) between lo and hi, cut points rounded to whole numbers.
 * @param out receives the parts, each of two positions or more
 */
export function clipLine(coords: Int32Array, axis: 0 | 1, lo: number, hi: number, out: Int32Array[]): void {
  const n = coords.length / 2;
  let part: number[] = [];
  const cut = (i: number, at: number): void => {
    const a = coords[2 * i + axis]!;
    const b = coords[2 * i + 2 + axis]!;
    const oa = coords[2 * i + 1 - axis]!;
    const ob = coords[2 * i + 3 - axis]!;
    const other = Math.round(oa + ((ob - oa) * (at - a)) / (b - a));
    if (axis === 0) part.push(at, other);
    else part.push(other, at);
  };
  const close = (): void => {
    if (part.length >= 4) out.push(Int32Array.from(part));
    part = [];
  };
  for (let i = 0; i < n; i++) {
    const v = coords[2 * i + axis]!;
    const inside = v >= lo && v <= hi;
    if (inside) part.push(coords[2 * i]!, coords[2 * i + 1]!);
    if (i + 1 === n) break;
    const w = coords[2 * i + 2 + axis]!;
    if (inside) {
      if (w < lo) cut(i, lo);
      else if (w > hi) cut(i, hi);
      if (w < lo || w > hi) close();
    } else if (v < lo && w >= lo) {
      cut(i, lo);
      if (w > hi) {
        cut(i, hi);
        close();
      }
    } else if (v > hi && w <= hi) {
      cut(i, hi);
      if (w < lo) {
        cut(i, lo);
        close();
      }
    }
  }
  close();
}

/** Twice the signed area, positive when the ring runs clockwise on a screen whose y points down (MVT's outer rings). */
export function twiceArea(ring: Int32Array): number {
  let sum = 0;
  const [x0, y0] = [ring[0] ?? 0, ring[1] ?? 0];
  // Relative to the first position: products of world-wide coordinates would lose their last digits.
  for (let i = 0; i + 3 < ring.length; i += 2)
    sum += (ring[i]! - x0) * (ring[i + 3]! - y0) - (ring[i + 2]! - x0) * (ring[i + 1]! - y0);
  return sum;
}
