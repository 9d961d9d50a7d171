/** The numbers that make this reserve and no other. Metres east and north of the map's south-west corner. */

export type Place = readonly [eastM: number, northM: number];

export const SEED = 21;

/** The map's sheet. */
export const MAP_EAST_M = 12_000;
export const MAP_NORTH_M = 9_024;
/** Ground shaped beyond the sheet on every side, then cut off, so that the closed edges do not show. */
export const PAD_M = 720;

/** Line of the main dale, from its mouth on the south edge upward: rises least, so the trunk river finds it. */
export const DALE: readonly Place[] = [
  [3480, -720],
  [3880, 780],
  [5280, 2180],
  [6280, 3580],
  [8080, 4580],
  [9480, 6180],
  [9880, 7880],
];
/** Where the second valley leaves over the west edge, at this northing. */
export const WEST_MOUTH_NORTH_M = 6_680;

/** Heights at which water leaves, before the vertical scale: nothing is cut lower. */
export const DALE_MOUTH_M = 215;
export const WEST_MOUTH_M = 290;
/** The lowest ground after scaling, and the scale. */
export const BASE_M = 179;
export const VERTICAL = 0.95;

/** Lake basin: around this place ground lower than `LAKE_DEEP_M` above the sill becomes water. */
export const LAKE: Place = [8_300, 4_950];
export const LAKE_NEAR_M = 350;
export const LAKE_FAR_M = 1_150;
export const LAKE_DEEP_M = 7.5;

/** Metres from a place to a polyline. */
export function distanceTo(line: readonly Place[], eastM: number, northM: number): number {
  let best = Infinity;
  for (let i = 0; i + 1 < line.length; i++) {
    const [ax, ay] = line[i] as Place;
    const [bx, by] = line[i + 1] as Place;
    const dx = bx - ax;
    const dy = by - ay;
    const length2 = dx * dx + dy * dy;
    const t = length2 > 0 ? Math.min(1, Math.max(0, ((eastM - ax) * dx + (northM - ay) * dy) / length2)) : 0;
    const offE = eastM - ax - t * dx;
    const offN = northM - ay - t * dy;
    best = Math.min(best, offE * offE + offN * offN);
  }
  return Math.sqrt(best);
}
