/** What advice on a leg depends on besides its figures. Every value is the person's to change. */
import { DEFAULT_ESCAPE_REACH_M } from "../aids/escape.ts";
import { BY_MARKS, UNAIDED, USUAL_SPREAD, WALKERS } from "../odds/spread.ts";

export interface AdviceSettings {
  /** How the bearing is kept: from steering mark to steering mark, or compass in hand without. */
  readonly steering: "marks" | "unaided";
  /** Standard deviation of the bearing as set, degrees, and of each hop from mark to mark. */
  readonly settingDeg: number;
  readonly hopDeg: number;
  /** The same without marks, over stretches of `unaidedHopM`. */
  readonly unaidedSettingDeg: number;
  readonly unaidedHopDeg: number;
  readonly unaidedHopM: number;
  /** Standard deviation of a counted distance, share of it. */
  readonly paceError: number;
  /** From within this distance the target is seen, metres. */
  readonly sightM: number;
  readonly walkers: number;
  readonly seed: number;
  /** A leg on which fewer find the target is flagged, share. */
  readonly flagBelow: number;
  /** How far one may have to walk on an escape bearing, metres. */
  readonly escapeReachM: number;
}

export const DEFAULT_ADVICE_SETTINGS: AdviceSettings = {
  steering: "marks",
  settingDeg: BY_MARKS.settingDeg,
  hopDeg: BY_MARKS.hopDeg,
  unaidedSettingDeg: UNAIDED.settingDeg,
  unaidedHopDeg: UNAIDED.hopDeg,
  unaidedHopM: UNAIDED.hopM,
  paceError: USUAL_SPREAD.paceError,
  sightM: USUAL_SPREAD.sightM,
  walkers: WALKERS,
  seed: 1,
  // No source: two in three alone find it, the others must be stopped.
  flagBelow: 0.67,
  escapeReachM: DEFAULT_ESCAPE_REACH_M,
};
