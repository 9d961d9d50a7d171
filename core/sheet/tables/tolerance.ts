/** How far an answer may be off. Common practice, no source: what a base-plate compass and its ruler give by careful hands. */
export interface Tolerance {
  readonly bearingDeg: number;
  /** Of the distance; and never less than `distanceM`. */
  readonly distanceShare: number;
  readonly distanceM: number;
  readonly pacesShare: number;
  /** Climb and descent; with a map that has contours never less than its interval. */
  readonly heightM: number;
}
export const USUAL_TOLERANCE: Tolerance = {
  bearingDeg: 2,
  distanceShare: 0.05,
  distanceM: 25,
  pacesShare: 0.1,
  heightM: 10,
};
