/** How hard a worksheet is: how long lines are, how close an answer must come, how much is to be counted. No source. */
export const DRILL_LEVELS = ["easy", "middle", "hard"] as const;
export type DrillLevel = (typeof DRILL_LEVELS)[number];

export interface LevelFigures {
  /** A bearing is right within so many degrees, on lines no shorter than `lineMm`: a pencil line a millimetre off at one end stays within. */
  readonly bearingWithinDeg: number;
  readonly lineMm: number;
  /** A ruler is read so closely, millimetres. */
  readonly rulerMm: number;
  readonly contours: readonly [least: number, most: number];
  /** Bearings in sums are multiples of it, degrees. */
  readonly roundDeg: number;
}

export const LEVELS: Readonly<Record<DrillLevel, LevelFigures>> = {
  easy: { bearingWithinDeg: 3, lineMm: 25, rulerMm: 1.5, contours: [3, 7], roundDeg: 10 },
  // Common practice, no source: a compass on the map to 2°, a ruler to the half millimetre at both ends.
  middle: { bearingWithinDeg: 2, lineMm: 30, rulerMm: 1, contours: [3, 15], roundDeg: 1 },
  hard: { bearingWithinDeg: 1, lineMm: 60, rulerMm: 0.5, contours: [8, 25], roundDeg: 1 },
};
