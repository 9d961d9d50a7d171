/**
 * Where a straight way crosses the lines of a grid, which run through its whole numbers: as shares of the way, 0 to 1,
 * rising.
 */
export function gridCrossings(
  from: readonly [column: number, row: number],
  to: readonly [column: number, row: number],
): number[] {
  const shares: number[] = [];
  for (const axis of [0, 1] as const) {
    const a = from[axis];
    const b = to[axis];
    if (a === b) continue;
    for (let k = Math.ceil(Math.min(a, b)); k <= Math.max(a, b); k++) shares.push((k - a) / (b - a));
  }
  return shares.sort((p, q) => p - q);
}
