/** The square a reference names, as it lies on the ground: a reference is no dot. */
import { fromUtm, toUtm } from "../../core/geodesy/utm.ts";
import type { LonLat } from "../../core/units/position.ts";

/**
 * Corners of the square around its middle, from the south-west on; the place alone when it has no size.
 * @param sideM metres in the UTM grid; a British square, in another grid, is drawn turned by the grids' difference of a
 *   degree or two
 */
export function squareRing(middle: LonLat, sideM: number | null): readonly LonLat[] {
  if (sideM === null) return [middle];
  const { zone, hemisphere, eastingM, northingM } = toUtm(middle);
  const half = sideM / 2;
  const corners = [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ] as const;
  try {
    return corners.map(([east, north]) =>
      fromUtm({ zone, hemisphere, eastingM: eastingM + east, northingM: northingM + north }),
    );
  } catch {
    // At the edge of the grid a square has no corners to show.
    return [middle];
  }
}
