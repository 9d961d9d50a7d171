/**
 * Where the heights of index contours can be written: at even distances along them, there on the straightest stretch.
 * Contours run with the higher ground on their left, so figures written in a line's direction have their heads uphill,
 * as is common practice on topographic maps.
 */

/** Distance between labels of a contour, tile units: some 300 pixels of a 512-pixel tile. No source. */
const APART = 2400;
/** How far from its even distance a label may be put for a straighter place. */
const ASIDE = 700;
/** Length a label takes up, and the length below which a contour gets none. */
const LABEL = 320;
const SHORTEST = 900;

export interface ContourLabel {
  readonly x: number;
  readonly y: number;
  /** Direction of the figures, degrees clockwise from east on the screen. */
  readonly angleDeg: number;
}

/** @param line `n` positions in the units of a zoom */
export function contourLabels(line: Int32Array, n: number): ContourLabel[] {
  const along = new Float64Array(n);
  for (let i = 1; i < n; i++)
    along[i] =
      along[i - 1]! + Math.hypot(line[2 * i]! - line[2 * i - 2]!, line[2 * i + 1]! - line[2 * i - 1]!);
  const length = along[n - 1]!;
  if (length < SHORTEST) return [];
  let at = 0;
  const place = (s: number): readonly [number, number] => {
    while (at > 0 && along[at]! > s) at--;
    while (at + 2 < n && along[at + 1]! < s) at++;
    const step = along[at + 1]! - along[at]!;
    const t = step > 0 ? (s - along[at]!) / step : 0;
    return [
      line[2 * at]! + (line[2 * at + 2]! - line[2 * at]!) * t,
      line[2 * at + 1]! + (line[2 * at + 3]! - line[2 * at + 1]!) * t,
    ];
  };
  const labels: ContourLabel[] = [];
  const count = Math.max(1, Math.floor(length / APART));
  for (let k = 0; k < count; k++) {
    const middle = ((k + 0.5) * length) / count;
    let best: ContourLabel | null = null;
    let straightest = 0;
    for (let s = middle - ASIDE; s <= middle + ASIDE; s += LABEL / 2) {
      if (s < LABEL / 2 || s > length - LABEL / 2) continue;
      const [ax, ay] = place(s - LABEL / 2);
      const [x, y] = place(s);
      const [bx, by] = place(s + LABEL / 2);
      const chord = Math.hypot(bx - ax, by - ay);
      // 1 where the stretch is straight and the middle lies on the chord.
      const straight = chord / LABEL - Math.hypot(x - (ax + bx) / 2, y - (ay + by) / 2) / LABEL;
      if (straight <= straightest) continue;
      straightest = straight;
      best = { x: Math.round(x), y: Math.round(y), angleDeg: (Math.atan2(by - ay, bx - ax) * 180) / Math.PI };
    }
    // On a hairpin there is no place for figures.
    if (best && straightest > 0.8) labels.push(best);
  }
  return labels;
}
