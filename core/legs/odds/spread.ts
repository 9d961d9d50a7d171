/**
 * How far walkers stray: the settings of the odds, and what is usual for each.
 *
 * A walker's heading is off by two parts: a constant one for the whole course (the setting of the compass, the way it is
 * held, a leaning to one side) and a fresh one for every hop, at the end of which the compass is read again or the next
 * steering mark is chosen. The constant part grows with the distance, the fresh one with its square root.
 */
import { Fault } from "../../fault.ts";
import { DEG } from "../../units/angle.ts";

/** One way of holding a bearing. Angles are standard deviations. */
export interface Steering {
  readonly settingDeg: number;
  readonly hopDeg: number;
  /** Length of a hop: the distance from mark to mark, or between two looks at the compass. */
  readonly hopM: number;
}

/** Sighting from mark to mark: a setting error of 2°, 3° a hop, marks 50–60 yards apart in woods. Common practice, no source. */
export const BY_MARKS: Steering = { settingDeg: 2, hopDeg: 3, hopM: 50 };

/**
 * Compass in hand, without marks. Chosen so that the median walker is 5.5 yards aside after 50 and 9.5 after 100:
 * common practice, no source, has it at 5 to 10 yards over 50 to 100.
 */
export const UNAIDED: Steering = { settingDeg: 6.5, hopDeg: 9, hopM: 25 };

export interface OddsSpread {
  readonly steering: Steering;
  /** Standard deviation of a counted distance as a share of it. */
  readonly paceError: number;
  /** The target is found by whoever looks for it from within this distance, metres. */
  readonly sightM: number;
  /** How far beyond the end of their count walkers go on towards a line they know to be there, metres. */
  readonly walkOnM: number;
  /** How far off a handrail walkers may be and still come to it, metres. */
  readonly railReachM: number;
}

/** Common practice, no source: 3 to 10 % for a pace count; 30 m in open woods; the rest as handrails and backstops are searched. */
export const USUAL_SPREAD: OddsSpread = {
  steering: BY_MARKS,
  paceError: 0.05,
  sightM: 30,
  walkOnM: 500,
  railReachM: 60,
};

export const WALKERS = 10_000;
const MOST_WALKERS = 1_000_000;

export interface Draw {
  /** How many set out. */
  readonly walkers?: number;
  /** Whole number; the same seed gives the same walkers. */
  readonly seed?: number;
}

/** @throws Fault "bad-argument" for a spread that cannot be */
export function checkSpread({ steering, paceError, sightM, walkOnM, railReachM }: OddsSpread): void {
  const { settingDeg, hopDeg, hopM } = steering;
  within("The setting error", settingDeg, 0, 60, "°");
  within("The error of a hop", hopDeg, 0, 60, "°");
  within("The length of a hop", hopM, 1, 10_000, " m");
  within("The error of the pace count as a share", paceError, 0, 0.5, "");
  within("The sight distance", sightM, 0, 10_000, " m");
  within("The distance walked on", walkOnM, 0, 100_000, " m");
  within("The reach of a handrail", railReachM, 0, 10_000, " m");
}

/** @throws Fault "bad-argument" unless it is a number of walkers and a whole seed */
export function checkDraw({ walkers = WALKERS, seed = 1 }: Draw): Required<Draw> {
  within("The number of walkers", walkers, 1, MOST_WALKERS, "");
  if (!Number.isInteger(walkers) || !Number.isSafeInteger(seed))
    throw new Fault(
      "bad-argument",
      "Walkers and seed are whole numbers.",
      `${walkers} walkers, seed ${seed}`,
      "Leave out the fraction.",
    );
  return { walkers, seed };
}

export function within(what: string, value: number, low: number, high: number, unit: string): void {
  if (value >= low && value <= high) return;
  throw new Fault(
    "bad-argument",
    `${what} must lie between ${low}${unit} and ${high}${unit}, not ${value}${unit}.`,
    null,
    "Correct it in the settings.",
  );
}

/** Standard deviation to the side after a distance on one course, metres: the setting's part and the hops' together. */
export function sideSpreadM({ settingDeg, hopDeg, hopM }: Steering, distanceM: number): number {
  const setting = distanceM * settingDeg * DEG;
  const hops = distanceM * hopDeg * DEG;
  return Math.sqrt(setting * setting + (hops * hops) / Math.max(1, distanceM / hopM));
}
