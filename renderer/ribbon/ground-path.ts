/** The ground's line as an SVG path with no more vertices than can be seen. Pure. */
import type { RibbonScale } from "./ribbon-scale.ts";

/** Two a pixel column would not be told apart. */
const COLUMN_PX = 1.5;

/**
 * Keeps of each column of pixels its first, lowest, highest and last place, so that no peak is lost.
 * @param stretch metres along the walk and metres of height, in order
 * @returns "x yLx y…" without the leading M; empty for fewer than two places
 */
export function groundPath(stretch: readonly (readonly [number, number])[], scale: RibbonScale): string {
  if (stretch.length < 2) return "";
  const kept: (readonly [number, number])[] = [];
  let column: (readonly [number, number])[] = [];
  let end = -Infinity;
  const flush = (): void => {
    const [first, last] = [column[0], column.at(-1)];
    if (!first || !last) return;
    let [low, high] = [first, first];
    for (const place of column) {
      if (place[1] > low[1]) low = place;
      if (place[1] < high[1]) high = place;
    }
    const some = new Set([first, low, high, last]);
    kept.push(...column.filter((place) => some.has(place)));
    column = [];
  };
  for (const [along, height] of stretch) {
    const place = [scale.x(along), scale.y(height)] as const;
    if (place[0] > end) {
      flush();
      end = place[0] + COLUMN_PX;
    }
    column.push(place);
  }
  flush();
  return kept.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L");
}
