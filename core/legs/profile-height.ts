import type { Profile } from "../terrain/profile.ts";

/**
 * Height on a profile at a distance from the leg's start, metres above the map's datum, interpolated between samples;
 * null beyond the ends and where a neighbouring sample has no height.
 */
export function elevationAt({ distanceM, elevationM }: Profile, atM: number): number | null {
  const last = distanceM.length - 1;
  // Crossings at the very end may come out a rounding error beyond it.
  const CLOSE_M = 1e-3;
  if (last < 0 || atM < -CLOSE_M || atM > (distanceM[last] as number) + CLOSE_M) return null;
  let [low, high] = [0, Math.max(0, last - 1)];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((distanceM[middle] as number) <= atM) low = middle;
    else high = middle - 1;
  }
  const next = Math.min(last, low + 1);
  const span = (distanceM[next] as number) - (distanceM[low] as number);
  const f = span > 0 ? Math.min(1, Math.max(0, (atM - (distanceM[low] as number)) / span)) : 0;
  const [a, b] = [elevationM[low] as number, elevationM[next] as number];
  // At a sample itself the neighbour does not matter.
  const height = f === 0 ? a : f === 1 ? b : a + f * (b - a);
  return Number.isFinite(height) ? height : null;
}
