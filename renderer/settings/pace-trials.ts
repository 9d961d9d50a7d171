/** Counted trials: one as typed, all of one ground together, and the pace with their mean. Pure. */
import type { WalkPace } from "../../core/walk/walk.ts";
import { calibratePace, type PaceCalibration, type PaceGround } from "../../core/travel/pace-calibration.ts";
import { parseLength } from "../../core/units/length.ts";
import type { PaceTrialOnGround } from "../../electron/contract.ts";
import { readNumber, readTook } from "./read-entry.ts";

export interface TrialEntry {
  readonly ground: PaceGround;
  readonly distance: string;
  readonly paces: string;
  readonly took: string;
}

export const PACE_GROUNDS: readonly PaceGround[] = ["flat", "up", "down", "rough", "night", "load"];

/** @throws Fault "bad-argument" for a distance, count or time that cannot be */
export function readTrial({ ground, distance, paces, took }: TrialEntry): PaceTrialOnGround {
  const trial: PaceTrialOnGround = {
    ground,
    distanceM: parseLength(distance, "m"),
    paces: readNumber(paces, "66"),
    seconds: readTook(took),
  };
  calibratePace([trial], ground);
  return trial;
}

export interface GroundPace {
  readonly ground: PaceGround;
  readonly found: PaceCalibration;
}

/** Mean and spread for each ground that has trials, in the order of the grounds. */
export const calibrations = (trials: readonly PaceTrialOnGround[]): readonly GroundPace[] =>
  PACE_GROUNDS.flatMap((ground) => {
    const own = trials.filter((trial) => trial.ground === ground);
    return own.length === 0 ? [] : [{ ground, found: calibratePace(own, ground) }];
  });

/** As it is counted: to a tenth of a pace. */
const counted = (per100m: number): number => Math.round(per100m * 10) / 10;

/** The walk's pace with what the trials found; rough ground, night and load take the place of the flat. */
export function paceWith(pace: WalkPace, { ground, found }: GroundPace): WalkPace {
  const per100m = counted(found.per100m);
  if (ground === "up") return { ...pace, upPer100m: per100m };
  if (ground === "down") return { ...pace, downPer100m: per100m };
  return { ...pace, per100m };
}

/** The same steps counted the other way: twice as many paces when every step counts. */
export function countedBy(pace: WalkPace, steps: 1 | 2): WalkPace {
  const factor = pace.steps / steps;
  const turned = (count: number | null): number | null => (count === null ? null : counted(count * factor));
  return {
    per100m: counted(pace.per100m * factor),
    upPer100m: turned(pace.upPer100m),
    downPer100m: turned(pace.downPer100m),
    steps,
  };
}
