/** Labels of the walk's points under the ribbon: whole names where they fit, letters where not, none on another. Pure. */

export interface PointLabelWanted {
  /** Longest first. */
  readonly versions: readonly string[];
  /** Where the point is, pixels. */
  readonly x: number;
}

export interface PointLabelPlaced {
  readonly text: string;
  /** Middle of the text, pixels: near the point, but never past the ends of the ribbon. */
  readonly middle: number;
  /** Place of the point in the walk. */
  readonly key: number;
}

/** Start and end of the walk come first, then the points in order. */
export function placePointLabels(
  wanted: readonly PointLabelWanted[],
  widthOf: (text: string) => number,
  room: { readonly left: number; readonly right: number; readonly gap: number },
): readonly PointLabelPlaced[] {
  const placed: PointLabelPlaced[] = [];
  const taken: { readonly x0: number; readonly x1: number }[] = [];
  const order = [...new Set([0, wanted.length - 1, ...wanted.keys()])].filter(
    (key) => key >= 0 && key < wanted.length,
  );
  for (const key of order) {
    const { versions, x } = wanted[key] as PointLabelWanted;
    for (const text of versions) {
      const half = widthOf(text) / 2;
      const middle = Math.min(Math.max(x, room.left + half), room.right - half);
      const [x0, x1] = [middle - half - room.gap, middle + half + room.gap];
      if (taken.some((other) => x0 < other.x1 && other.x0 < x1)) continue;
      taken.push({ x0: middle - half, x1: middle + half });
      placed.push({ text, middle, key });
      break;
    }
  }
  return placed.sort((a, b) => a.key - b.key);
}
