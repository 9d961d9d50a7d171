/**
 * How far a person strays from a bearing, from trials: a known distance walked on a bearing, then how far aside of the mark one
 * stands. Each trial gives an angle; their mean is a leaning to one side, their standard deviation the spread, told with how
 * surely so few trials know it: for errors of a normal distribution (n − 1) s²/σ² is distributed as chi-square with n − 1 degrees
 * of freedom, and the mean over s/√n as Student's t (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.8 and 1.3.5.2).
 */
import { Fault } from "../fault.ts";
import { DEG } from "../units/angle.ts";

export const DRIFT_STEERINGS = ["marks", "unaided"] as const;
export type DriftSteering = (typeof DRIFT_STEERINGS)[number];

export interface DriftTrial {
  readonly steering: DriftSteering;
  readonly distanceM: number;
  /** Metres aside of the mark at the end, right positive. */
  readonly asideM: number;
}

export interface DriftFigures {
  readonly trials: number;
  /** Mean angle, degrees, right positive. */
  readonly biasDeg: number;
  /** Half of the 95 % interval of the mean, degrees; null for one trial. */
  readonly biasWithinDeg: number | null;
  /** The leaning is more than chance would give in 19 of 20 persons who have none. */
  readonly leans: boolean;
  /** Standard deviation about the mean (n − 1), degrees; null for one trial. */
  readonly spreadDeg: number | null;
  /** 95 % interval of that standard deviation, degrees; null for one trial. */
  readonly spreadFromToDeg: readonly [number, number] | null;
  /** Root mean square about the bearing itself, leaning and spread together, degrees: how far off a walker is who corrects nothing. */
  readonly offDeg: number;
  readonly meanDistanceM: number;
  readonly cautions: readonly string[];
}

const bad = (what: string): Fault => new Fault("bad-argument", what, null, "Correct it.");
/** Farther aside than this, 45°, one has walked on another bearing. */
const MOST_DEG = 45;

/** @throws Fault "bad-argument" for a distance or an error that cannot be */
export function checkDriftTrial({ distanceM, asideM }: DriftTrial): void {
  if (!(distanceM > 0 && distanceM < 100_000))
    throw bad(`The distance must be more than 0, not ${distanceM} m.`);
  if (!(Math.abs(asideM) < distanceM * Math.tan(MOST_DEG * DEG)))
    throw bad(
      `${Math.abs(asideM)} m aside after ${distanceM} m is no error on a bearing but another bearing.`,
    );
}

/**
 * @param trials all of one way of steering
 * @throws Fault "bad-argument" without trials, and as `checkDriftTrial`
 */
export function driftFigures(trials: readonly DriftTrial[]): DriftFigures {
  if (trials.length === 0) throw bad("A drift needs at least one trial.");
  trials.forEach(checkDriftTrial);
  const angles = trials.map(({ distanceM, asideM }) => Math.atan2(asideM, distanceM) / DEG);
  const n = angles.length;
  const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);
  const biasDeg = sum(angles) / n;
  const spreadDeg = n < 2 ? null : Math.sqrt(sum(angles.map((a) => (a - biasDeg) ** 2)) / (n - 1));
  const biasWithinDeg = spreadDeg === null ? null : (student975(n - 1) * spreadDeg) / Math.sqrt(n);
  const cautions: string[] = [];
  if (n < 5) cautions.push("Fewer than five trials hardly show a spread: look at the range.");
  if (trials.some(({ distanceM }) => distanceM < 50))
    cautions.push("Over less than 50 m a step to the side is a large angle.");
  return {
    trials: n,
    biasDeg,
    biasWithinDeg,
    leans: biasWithinDeg !== null && Math.abs(biasDeg) > biasWithinDeg,
    spreadDeg,
    spreadFromToDeg:
      spreadDeg === null
        ? null
        : [
            spreadDeg * Math.sqrt((n - 1) / chiSquare(n - 1, 0.975)),
            spreadDeg * Math.sqrt((n - 1) / chiSquare(n - 1, 0.025)),
          ],
    offDeg: Math.sqrt(sum(angles.map((a) => a * a)) / n),
    meanDistanceM: sum(trials.map(({ distanceM }) => distanceM)) / n,
    cautions,
  };
}

export interface DriftMeasured {
  /** Standard deviations for the odds: of the whole leg and of each hop, degrees. */
  readonly settingDeg: number;
  readonly hopDeg: number;
  /** How far the cone opens to either side, degrees: two standard deviations. */
  readonly coneDeg: number;
}

/**
 * What the odds take of a measured drift. Trials of one length cannot tell the two parts of an error apart: both are changed in the
 * proportion of the usual ones, so that walkers stray at the trials' mean distance as far as the person did.
 * @param usual standard deviations, and the length of a hop, as they are now
 */
export function driftForOdds(
  { offDeg, meanDistanceM }: Pick<DriftFigures, "offDeg" | "meanDistanceM">,
  usual: { readonly settingDeg: number; readonly hopDeg: number; readonly hopM: number },
): DriftMeasured {
  // As the odds have it: setting and hops, the latter divided among as many as the distance holds.
  const now = Math.hypot(usual.settingDeg, usual.hopDeg / Math.sqrt(Math.max(1, meanDistanceM / usual.hopM)));
  const tenths = (deg: number): number => Math.round(deg * 10) / 10;
  const [settingDeg, hopDeg] =
    now === 0 ? [offDeg, 0] : [(usual.settingDeg * offDeg) / now, (usual.hopDeg * offDeg) / now];
  return { settingDeg: tenths(settingDeg), hopDeg: tenths(hopDeg), coneDeg: tenths(2 * offDeg) };
}

/** Quantile 0.975 of Student's t, by halving on its distribution. @param df whole, at least 1 */
const student975 = (df: number): number =>
  // t² is F(1, df): P(|T| < t) = I(t²/(df + t²); 1/2, df/2).
  solve((t) => incompleteBeta((t * t) / (df + t * t), 0.5, df / 2) - 0.95, 0, 20);

/** Quantile of chi-square. */
const chiSquare = (df: number, share: number): number =>
  solve((x) => lowerGamma(df / 2, x / 2) - share, 0, df + 20 * Math.sqrt(2 * df) + 20);

/** Zero of a rising function between two places. */
function solve(rising: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  for (let i = 0; i < 80; i++) {
    const middle = (a + b) / 2;
    if (rising(middle) < 0) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

/** ln Γ of halves and wholes: steps down to Γ(1) = 1 and Γ(1/2) = √π. */
function lnGamma(x: number): number {
  let [at, value] = [x, 0];
  for (; at > 1; at--) value += Math.log(at - 1);
  return at === 1 ? value : value + Math.log(Math.PI) / 2;
}

/** Regularised lower incomplete gamma by its series (DLMF 8.7.1). */
function lowerGamma(a: number, x: number): number {
  if (x <= 0) return 0;
  let term = Math.exp(-x + a * Math.log(x) - lnGamma(a + 1));
  let sum = term;
  for (let n = 1; n < 2000 && term > sum * 1e-15; n++) {
    term *= x / (a + n);
    sum += term;
  }
  return sum;
}

/** Regularised incomplete beta by its series (DLMF 8.17.8). */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x > 0.5) return 1 - incompleteBeta(1 - x, b, a);
  let term = Math.exp(a * Math.log(x) + b * Math.log(1 - x) + lnGamma(a + b) - lnGamma(a + 1) - lnGamma(b));
  let sum = term;
  for (let n = 1; n < 5000 && term > sum * 1e-15; n++) {
    term *= ((a + b + n - 1) / (a + n)) * x;
    sum += term;
  }
  return sum;
}
