/** From marked samples of a grid to the rings around them. */

/**
 * Rings around the marked samples, through the middles between marked and unmarked neighbours: no ring touches itself
 * or another, in columns and rows.
 * @param marked the outermost samples are not
 */
export function outlines(marked: Uint8Array, columns: number, rows: number): Float64Array[] {
  // A corner between four samples is named by its north-western one; a side runs with the marked sample on its right.
  const [EAST, SOUTH, WEST, NORTH] = [0, 1, 2, 3];
  const steps = [1, columns, -1, -columns];
  const at = (i: number): number => marked[i] ?? 0;
  /** Whether a side leaves a corner in a direction. */
  const leaves = (corner: number, direction: number): boolean => {
    const [nw, ne, sw, se] = [corner, corner + 1, corner + columns, corner + columns + 1];
    if (direction === EAST) return !at(ne) && !!at(se);
    if (direction === SOUTH) return !at(se) && !!at(sw);
    if (direction === WEST) return !at(sw) && !!at(nw);
    return !at(nw) && !!at(ne);
  };
  const done = new Uint8Array(marked.length);
  const rings: Float64Array[] = [];
  for (let start = 0; start < (rows - 1) * columns; start++) {
    for (const first of [EAST, SOUTH, WEST, NORTH]) {
      if ((done[start]! >> first) & 1 || !leaves(start, first)) continue;
      const ring: number[] = [];
      let corner = start;
      let direction = first;
      do {
        done[corner] = done[corner]! | (1 << direction);
        const next = corner + steps[direction]!;
        // The middle of the side from this corner to the next.
        ring.push(
          (corner % columns) + 0.5 + (direction === EAST ? 0.5 : direction === WEST ? -0.5 : 0),
          Math.floor(corner / columns) + 0.5 + (direction === SOUTH ? 0.5 : direction === NORTH ? -0.5 : 0),
        );
        corner = next;
        // Right first: marked samples that meet in a corner only stay apart.
        direction = [1, 0, 3].map((turn) => (direction + turn) % 4).find((d) => leaves(corner, d)) ?? first;
      } while (!(corner === start && direction === first));
      ring.push(ring[0]!, ring[1]!);
      rings.push(Float64Array.from(ring));
    }
  }
  return rings;
}
