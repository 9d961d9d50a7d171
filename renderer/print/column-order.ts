/** The order of the leg table's columns: pure changes of a list of ids. */

/** @param to place in the list without the moved one */
export function moved(columns: readonly string[], from: number, to: number): readonly string[] {
  const one = columns[from];
  if (one === undefined) return columns;
  const rest = columns.filter((_, i) => i !== from);
  const at = Math.max(0, Math.min(rest.length, to));
  return [...rest.slice(0, at), one, ...rest.slice(at)];
}

export const without = (columns: readonly string[], at: number): readonly string[] =>
  columns.filter((_, i) => i !== at);

/**
 * Where a dragged row would go.
 * @param middles heights of the rows' middles, from the top down
 */
export function placeFor(y: number, middles: readonly number[], from: number): number {
  return middles.filter((middle, i) => i !== from && middle < y).length;
}
