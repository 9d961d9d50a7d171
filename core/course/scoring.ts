/** A learner's error at a point, turned into what it says of bearing and count. */
import { Fault } from "../fault.ts";
import { DEG, normalise180 } from "../units/angle.ts";

/** Where a learner ended, seen from where they should have: either along and aside, or as a bearing and distance. */
export type Miss =
  | {
      /** Beyond the point, short of it negative, metres. */
      readonly beyondM: number;
      /** To the right of the way, left negative, metres. */
      readonly asideM: number;
    }
  | {
      /** From the point to where the learner stands; on the north of the leg's bearing. */
      readonly bearingDeg: number;
      readonly distanceM: number;
    };

export interface Score {
  readonly beyondM: number;
  readonly asideM: number;
  /** How far off the bearing was walked, degrees, right positive. */
  readonly bearingErrorDeg: number;
  /** How far off the count was, percent of the leg, too far positive. */
  readonly distanceErrorPercent: number;
  /** From the point, metres, and as percent of the leg. */
  readonly missM: number;
  readonly missPercent: number;
}

/**
 * The score of one leg, by plane trigonometry from where the learner set out.
 * @param leg bearing in degrees and length in metres
 * @throws Fault "bad-argument" for a leg without length or a miss that is no number
 */
export function scoreOf(leg: { readonly bearingDeg: number; readonly lengthM: number }, miss: Miss): Score {
  const { bearingDeg, lengthM } = leg;
  const turned = "distanceM" in miss ? (miss.bearingDeg - bearingDeg) * DEG : 0;
  const beyondM = "distanceM" in miss ? miss.distanceM * Math.cos(turned) : miss.beyondM;
  const asideM = "distanceM" in miss ? miss.distanceM * Math.sin(turned) : miss.asideM;
  if (!(lengthM > 0) || !Number.isFinite(beyondM) || !Number.isFinite(asideM) || !Number.isFinite(bearingDeg))
    throw new Fault(
      "bad-argument",
      "A score needs a leg with a length and an error in numbers.",
      null,
      "Correct them.",
    );
  const walkedM = Math.hypot(lengthM + beyondM, asideM);
  const missM = Math.hypot(beyondM, asideM);
  return {
    beyondM,
    asideM,
    bearingErrorDeg: normalise180(Math.atan2(asideM, lengthM + beyondM) / DEG),
    distanceErrorPercent: (100 * (walkedM - lengthM)) / lengthM,
    missM,
    missPercent: (100 * missM) / lengthM,
  };
}

/** Of several legs of one learner: what is the same on all of them, and how much they vary. */
export interface ScoreSpread {
  readonly meanDeg: number;
  readonly meanPercent: number;
  /** Sample standard deviations; null for fewer than two legs. */
  readonly spreadDeg: number | null;
  readonly spreadPercent: number | null;
}

/** Null without legs. Means and sample standard deviations; errors of bearing are far from half a circle. */
export function spreadOf(scores: readonly Score[]): ScoreSpread | null {
  if (scores.length === 0) return null;
  const degrees = moments(scores.map(({ bearingErrorDeg }) => bearingErrorDeg));
  const percent = moments(scores.map(({ distanceErrorPercent }) => distanceErrorPercent));
  return {
    meanDeg: degrees.mean,
    meanPercent: percent.mean,
    spreadDeg: degrees.deviation,
    spreadPercent: percent.deviation,
  };
}

function moments(values: readonly number[]): { readonly mean: number; readonly deviation: number | null } {
  const sum = (all: readonly number[]): number => all.reduce((total, one) => total + one, 0);
  const mean = sum(values) / values.length;
  if (values.length < 2) return { mean, deviation: null };
  return { mean, deviation: Math.sqrt(sum(values.map((one) => (one - mean) ** 2)) / (values.length - 1)) };
}
