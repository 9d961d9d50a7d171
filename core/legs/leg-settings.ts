/** What the figures of a leg depend on besides the map. Every value is shown with the figures. */
export interface LegSettings {
  /** Day of the walk, YYYY-MM-DD: declination is worked out for it. */
  readonly date: string;
  /** Paces per 100 m of map distance on flat ground, in the walker's own count. */
  readonly pacesPer100m: number;
  /** Whether a pace is two steps (a double pace) or one. */
  readonly paceSteps: 1 | 2;
  /** Reversals of the profile smaller than this are not counted as climb or descent, metres; null: a tenth of the interval, at least 1 m. */
  readonly climbThresholdM: number | null;
  /** How far off the leg a line may run and still be followed, metres. */
  readonly handrailOffsetM: number;
  /** How far its direction may differ from the leg's and still count as beside it, degrees. */
  readonly handrailToleranceDeg: number;
  /** Shortest stretch worth following, metres. */
  readonly handrailMinM: number;
  /** Half-angle of the drift cone, degrees. */
  readonly driftDeg: number;
  /** How far beyond the target to look for a backstop, metres. */
  readonly backstopReachM: number;
}

export const DEFAULT_LEG_SETTINGS: Omit<LegSettings, "date"> = {
  pacesPer100m: 65, // common practice, no source: 60–70 double paces per 100 m
  paceSteps: 2,
  climbThresholdM: null,
  handrailOffsetM: 60,
  handrailToleranceDeg: 35,
  handrailMinM: 50,
  driftDeg: 6, // common practice, no source: 10 in 100 is 5.7°
  backstopReachM: 500,
};
