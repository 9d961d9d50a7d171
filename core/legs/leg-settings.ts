/** What the figures of a walk depend on besides the ground: the walk's own choices, the person's, and thresholds. */
import { DEFAULT_HAZARD_BEYOND_M, DEFAULT_STEEP_DEG } from "./aids/hazards-kinds.ts";
import { MARK_SETTINGS } from "./aids/steering-marks.ts";
import type { PrintedNorth } from "../geodesy/printed-declination.ts";
import { NO_FACTORS, type TimeFactors, type TimeMethod } from "../travel/walking-time.ts";
import type { LengthUnit } from "../units/format.ts";

/** Whose declination rules the magnetic bearings; the other is kept beside it and compared. */
export interface DeclinationChoice {
  readonly use: "model" | "printed";
  readonly printed: PrintedNorth | null;
  /** The person insists on a day beyond the model's years: every figure that rests on it is marked. */
  readonly beyondModel: boolean;
}

/** What the figures of a leg depend on besides the map. Every value is shown with the figures. */
export interface LegSettings {
  /** Day of the walk, YYYY-MM-DD: declination and daylight are worked out for it. */
  readonly date: string;
  readonly declination: DeclinationChoice;
  /** Spacing of the marks on the compass, degrees: a smaller change of declination along a leg is not mentioned. */
  readonly graduationDeg: number;
  /** Paces per 100 m of map distance on flat ground, in the walker's own count. */
  readonly pacesPer100m: number;
  /** The counts going up and going down a slope; null takes that of flat ground. */
  readonly upPer100m: number | null;
  readonly downPer100m: number | null;
  /** Whether a pace is two steps (a double pace) or one. */
  readonly paceSteps: 1 | 2;
  /** How walking time is worked out, and what the party adds to it. */
  readonly timeMethod: TimeMethod;
  readonly timeFactors: TimeFactors;
  /** Clock time of setting out on `date`, HH:MM; null when not decided: then there are no arrivals. */
  readonly startTime: string | null;
  /** Clock time by which to be back, HH:MM, on the next day when it is not after `startTime`; null takes sunset. */
  readonly backBy: string | null;
  /** Time zone of the clock, such as "Europe/Oslo"; null is the computer's. */
  readonly timeZone: string | null;
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
  /** How far beyond the target dangers are looked for, metres; to the backstop when that is farther. */
  readonly hazardBeyondM: number;
  /** Ground at or above each of these angles is a class of steep ground, degrees, rising. */
  readonly steepDeg: readonly number[];
  /** How far ahead a steering mark is chosen, metres … */
  readonly hopM: number;
  /** … and in the open, where the map shows which ground is wooded; null takes `hopM` everywhere. */
  readonly openHopM: number | null;
  /** Unit of the lengths named in notes; every figure is in metres. */
  readonly lengthUnit: LengthUnit;
}

export const DEFAULT_LEG_SETTINGS: Omit<LegSettings, "date"> = {
  declination: { use: "model", printed: null, beyondModel: false },
  graduationDeg: 1,
  pacesPer100m: 65, // common practice, no source: 60–70 double paces per 100 m
  upPer100m: null,
  downPer100m: null,
  paceSteps: 2,
  timeMethod: "naismith",
  timeFactors: NO_FACTORS,
  startTime: null,
  backBy: null,
  timeZone: null,
  climbThresholdM: null,
  handrailOffsetM: 60,
  handrailToleranceDeg: 35,
  handrailMinM: 50,
  driftDeg: 6, // common practice, no source: 10 in 100 is 5.7°
  backstopReachM: 500,
  hazardBeyondM: DEFAULT_HAZARD_BEYOND_M,
  steepDeg: DEFAULT_STEEP_DEG,
  ...MARK_SETTINGS,
  lengthUnit: "metric",
};

/** The parts of a walk its figures depend on besides its points; a `Walk` is one. */
export interface WalkChoices {
  readonly date: string;
  readonly pace: {
    readonly per100m: number;
    readonly upPer100m: number | null;
    readonly downPer100m: number | null;
    readonly steps: 1 | 2;
  };
  readonly timeMethod: TimeMethod;
  readonly timeFactors: TimeFactors;
  readonly startTime: string | null;
  readonly backBy: string | null;
  readonly timeZone: string | null;
  readonly declination: DeclinationChoice;
}

/** The settings of a walk with everything it says itself, what the person chose, and the usual for the rest. */
export function legSettingsOf(
  { date, pace, timeMethod, timeFactors, startTime, backBy, timeZone, declination }: WalkChoices,
  of: Partial<Omit<LegSettings, keyof WalkChoices>> = {},
): LegSettings {
  return {
    ...DEFAULT_LEG_SETTINGS,
    date,
    declination,
    pacesPer100m: pace.per100m,
    upPer100m: pace.upPer100m,
    downPer100m: pace.downPer100m,
    paceSteps: pace.steps,
    timeMethod,
    timeFactors,
    startTime,
    backBy,
    timeZone,
    ...of,
  };
}
