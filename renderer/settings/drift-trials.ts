/** Drift trials as typed, and what odds and cone take of them. Pure. */
import { type AidSettings, AID_BOUNDS } from "../../core/legs/advice/aid-settings.ts";
import {
  checkDriftTrial,
  DRIFT_STEERINGS,
  type DriftFigures,
  driftFigures,
  driftForOdds,
  type DriftSteering,
  type DriftTrial,
} from "../../core/travel/drift-trials.ts";
import { parseLength } from "../../core/units/length.ts";

export interface DriftEntry {
  readonly steering: DriftSteering;
  readonly distance: string;
  readonly aside: string;
  readonly side: "left" | "right";
}

/** @throws Fault "bad-argument" for lengths that cannot be */
export function readDrift({ steering, distance, aside, side }: DriftEntry, unit: "m" | "ft"): DriftTrial {
  const off = /^0+$/.test(aside.trim()) ? 0 : parseLength(aside, unit);
  const trial = { steering, distanceM: parseLength(distance, unit), asideM: side === "left" ? 0 - off : off };
  checkDriftTrial(trial);
  return trial;
}

export interface SteeringDrift {
  readonly steering: DriftSteering;
  readonly found: DriftFigures;
  /** The settings that take it over. */
  readonly aids: Partial<AidSettings>;
}

const bounded = (
  key: "driftDeg" | "settingDeg" | "hopDeg" | "unaidedSettingDeg" | "unaidedHopDeg",
  deg: number,
): number => Math.min(AID_BOUNDS[key].high, Math.max(AID_BOUNDS[key].low, deg));

/** Each way of steering that has trials; odds and cone are those of the settings as they now are, in proportion. */
export const drifts = (trials: readonly DriftTrial[], now: AidSettings): readonly SteeringDrift[] =>
  DRIFT_STEERINGS.flatMap((steering) => {
    const own = trials.filter((trial) => trial.steering === steering);
    if (own.length === 0) return [];
    const found = driftFigures(own);
    const marks = steering === "marks";
    const { settingDeg, hopDeg, coneDeg } = driftForOdds(
      found,
      marks
        ? { settingDeg: now.settingDeg, hopDeg: now.hopDeg, hopM: now.hopM }
        : { settingDeg: now.unaidedSettingDeg, hopDeg: now.unaidedHopDeg, hopM: now.unaidedHopM },
    );
    const driftDeg = bounded("driftDeg", coneDeg);
    return [
      {
        steering,
        found,
        aids: marks
          ? {
              steering,
              driftDeg,
              settingDeg: bounded("settingDeg", settingDeg),
              hopDeg: bounded("hopDeg", hopDeg),
            }
          : {
              steering,
              driftDeg,
              unaidedSettingDeg: bounded("unaidedSettingDeg", settingDeg),
              unaidedHopDeg: bounded("unaidedHopDeg", hopDeg),
            },
      },
    ];
  });
