/** Which leg the pointer is on, in screen pixels. */

export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
}

export interface LegHit {
  /** Counting from 0. */
  readonly leg: number;
  /** Share of the leg from its start, 0–1. */
  readonly along: number;
  readonly offsetPx: number;
}

/**
 * The nearest leg within reach of the pointer.
 * @param points the walk's points on the screen, in order
 * @param reachPx how far off still counts
 * @param endsPx this near to either end does not count: there the points are
 */
export function legAt(
  points: readonly ScreenPoint[],
  pointer: ScreenPoint,
  reachPx = 8,
  endsPx = 10,
): LegHit | null {
  let best: LegHit | null = null;
  for (let leg = 0; leg + 1 < points.length; leg++) {
    const a = points[leg] as ScreenPoint;
    const b = points[leg + 1] as ScreenPoint;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const length2 = dx * dx + dy * dy;
    if (length2 === 0) continue;
    const along = Math.min(1, Math.max(0, ((pointer.x - a.x) * dx + (pointer.y - a.y) * dy) / length2));
    const offsetPx = Math.hypot(a.x + along * dx - pointer.x, a.y + along * dy - pointer.y);
    const fromEnds = Math.min(along, 1 - along) * Math.sqrt(length2);
    if (offsetPx > reachPx || fromEnds < endsPx) continue;
    if (!best || offsetPx < best.offsetPx) best = { leg, along, offsetPx };
  }
  return best;
}
