/**
 * Fewer positions for smaller scales.
 * Source: D. H. Douglas and T. K. Peucker, Algorithms for the reduction of the number of points required to represent
 * a digitized line or its caricature, Cartographica 10 (1973) 112–122.
 */

/** Marks what to keep between two kept positions; distances are to the segment, not to its endless line. */
function mark(coords: Int32Array, first: number, last: number, limit: number, keep: Uint8Array): void {
  const stack = [first, last];
  while (stack.length > 0) {
    const b = stack.pop()!;
    const a = stack.pop()!;
    const ax = coords[2 * a]!;
    const ay = coords[2 * a + 1]!;
    const dx = coords[2 * b]! - ax;
    const dy = coords[2 * b + 1]! - ay;
    const length2 = dx * dx + dy * dy;
    let worst = limit;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const px = coords[2 * i]! - ax;
      const py = coords[2 * i + 1]! - ay;
      const t = length2 > 0 ? Math.max(0, Math.min(1, (px * dx + py * dy) / length2)) : 0;
      const ex = px - t * dx;
      const ey = py - t * dy;
      const d2 = ex * ex + ey * ey;
      if (d2 > worst) {
        worst = d2;
        at = i;
      }
    }
    if (at < 0) continue;
    keep[at] = 1;
    stack.push(a, at, at, b);
  }
}

/**
 * The line with no dropped position farther than `tolerance` from what is left; ends stay.
 * A ring (first and last position equal) is held at the position farthest from its first as well,
 * and comes out empty when nothing but a sliver would be left.
 */
export function simplify(coords: Int32Array, tolerance: number): Int32Array {
  const n = coords.length / 2;
  if (n <= 2) return coords;
  const keep = new Uint8Array(n);
  keep[0] = keep[n - 1] = 1;
  const limit = tolerance * tolerance;
  const ring = coords[0] === coords[2 * n - 2] && coords[1] === coords[2 * n - 1];
  if (ring) {
    let far = 0;
    let worst = -1;
    for (let i = 1; i < n - 1; i++) {
      const d2 = (coords[2 * i]! - coords[0]!) ** 2 + (coords[2 * i + 1]! - coords[1]!) ** 2;
      if (d2 > worst) [worst, far] = [d2, i];
    }
    keep[far] = 1;
    mark(coords, 0, far, limit, keep);
    mark(coords, far, n - 1, limit, keep);
  } else mark(coords, 0, n - 1, limit, keep);
  let kept = 0;
  for (let i = 0; i < n; i++) kept += keep[i]!;
  if (ring && kept < 4) return new Int32Array(0);
  if (kept === n) return coords;
  const out = new Int32Array(2 * kept);
  let o = 0;
  for (let i = 0; i < n; i++)
    if (keep[i]) {
      out[o++] = coords[2 * i]!;
      out[o++] = coords[2 * i + 1]!;
    }
  return out;
}
