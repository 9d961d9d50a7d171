/** To which side of its staff a flag flies, so that it does not lie on the legs that meet at its point. Pure. */
import type { WalkPoint } from "../../core/walk/walk.ts";

/** Whether a leg from one point to the next leaves up and to the right (1), up and to the left (−1), or downwards (0). */
function upward(from: WalkPoint, to: WalkPoint | undefined): -1 | 0 | 1 {
  if (!to) return 0;
  const east = (to.lonLat[0] - from.lonLat[0]) * Math.cos((from.lonLat[1] * Math.PI) / 180);
  const north = to.lonLat[1] - from.lonLat[1];
  // A leg well below the horizontal does not meet a flag, which stands above its point.
  if (north < -0.1 * Math.abs(east)) return 0;
  return east >= 0 ? 1 : -1;
}

/** @returns true for a flag to the left of its point: only when legs are in its way on the right and none on the left */
export function flagToLeft(points: readonly WalkPoint[], index: number): boolean {
  const point = points[index];
  if (!point) return false;
  const sides = [upward(point, points[index - 1]), upward(point, points[index + 1])];
  return sides.includes(1) && !sides.includes(-1);
}
