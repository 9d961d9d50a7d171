/** How bearings agree with a fix and with each other, and whether they are placed to give one. */
import { DEG } from "../units/angle.ts";
import { chiSquareTail } from "./chi-square.ts";
import { type Covariance, type ErrorEllipse, squaredDeviations } from "./ellipse.ts";
import type { Corner } from "./fix.ts";
import type { Solution } from "./least-squares.ts";
import { offset } from "./rays.ts";
import type { LonLat } from "../units/position.ts";

/** Bearings should cross between 30° and 150°: common practice, no source; best near 90° (US Army FM 3-25.26, para 6-8, number from memory). */
export const NARROW_DEG = 30;
/** A longer ellipse is warned of. No source: two bearings from equal distances that cross at 23° give it. */
export const ELONGATED = 5;
/** An ellipse with a half axis of more than this share of the nearest distance is only roughly one. No source. */
export const ROUGH_SHARE = 0.25;
/** Bearings whose disagreement has less chance than this are inconsistent. No source: usual for tests of one hypothesis. */
export const INCONSISTENT = 0.01;
/**
 * A bearing is cleared when the rest disagree without it by more than has this chance. No source: with `INCONSISTENT` honest
 * bearings would clear the wrong one among them once in a hundred times …
 */
export const CLEARED = 0.001;
/** … or when another explains them so many times better, by the ratio of their likelihoods. No source. */
const FAR_BETTER = 100;
/**
 * A bearing this many of its standard deviations off does not go with the others.
 * Source: W. Baarda, A testing procedure for use in geodetic networks (1968), from memory: 3.29 for 1 in 1000.
 */
export const SUSPECT = 3.29;
/** With less of its variance left over after the fit a bearing is not checked by the others: only rounding is. */
const CHECKED = 1e-6;

/**
 * Each residual over its standard deviation after the fit; null where no other bearing checks it.
 * Source: Baarda (1968), from memory, w-test for correlated readings: (W v)ᵢ / √(W Q W)ᵢᵢ with W Q W = W − W J N⁻¹ Jᵀ W.
 */
export function normalisedResiduals({ fit, covariance }: Solution): (number | null)[] {
  const { at, weights } = fit;
  const sum = (i: number, of: (j: number) => number): number =>
    at.reduce((total, _, j) => total + ((weights[i] as readonly number[])[j] as number) * of(j), 0);
  return at.map((_, i) => {
    const east = sum(i, (j) => at[j]?.perEastM ?? 0);
    const north = sum(i, (j) => at[j]?.perNorthM ?? 0);
    const { ee, en, nn } = covariance;
    const own = (weights[i] as readonly number[])[i] as number;
    const variance = own - (ee * east * east + 2 * en * east * north + nn * north * north);
    if (variance < CHECKED * own) return null;
    return sum(i, (j) => (at[j]?.residualDeg ?? 0) * DEG) / Math.sqrt(variance);
  });
}

export interface Agreement {
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly chance: number;
}

/** Whether the bearings agree within their errors: the chi-square test of the weighted sum of squared residuals. */
export function agreementOf({ fit }: Solution): Agreement {
  const degreesOfFreedom = fit.at.length - 2;
  const chiSquare = degreesOfFreedom > 0 ? fit.cost : 0;
  return { chiSquare, degreesOfFreedom, chance: chiSquareTail(chiSquare, degreesOfFreedom) };
}

/**
 * Bearings that do not go with the others, likeliest first: the one without which the sum of squares falls furthest, if it falls
 * by more than `SUSPECT` squared, and every other without which the rest agree as well: either may be the wrong one then.
 * While a fit is nearly linear that fall is the square of the normalised residual; after a gross error it is not, and the
 * largest residual may be that of an honest bearing. With one bearing too many all are equally off, and which is wrong
 * cannot be told.
 * @param without how the rest agree without each bearing; null where the others meet nowhere
 */
export function suspectsOf(
  { chiSquare, degreesOfFreedom }: Agreement,
  without: readonly (Pick<Agreement, "chiSquare" | "chance"> | null)[],
): number[] {
  if (degreesOfFreedom < 2) return [];
  const falls = without
    .flatMap((rest, i) =>
      rest ? [{ i, fall: chiSquare - rest.chiSquare, agree: rest.chance > CLEARED }] : [],
    )
    .filter(({ fall }) => fall > SUSPECT * SUSPECT)
    .sort((a, b) => b.fall - a.fall);
  const likely = (falls[0]?.fall ?? 0) - 2 * Math.log(FAR_BETTER);
  return falls.filter(({ agree, fall }, rank) => rank === 0 || (agree && fall > likely)).map(({ i }) => i);
}

/** Widest crossing of any two bearings, 0–90°: below `NARROW_DEG` the geometry is bad. */
export const widestCrossingDeg = (corners: readonly Corner[]): number =>
  Math.max(0, ...corners.map(({ crossingDeg }) => crossingDeg));

export const isElongated = ({ semiMajorM, semiMinorM }: ErrorEllipse): boolean =>
  semiMajorM > ELONGATED * semiMinorM;

export const isRough = ({ semiMajorM }: ErrorEllipse, distancesM: readonly number[]): boolean =>
  semiMajorM > ROUGH_SHARE * Math.min(...distancesM);

/** Whether a known point lies within an ellipse twice the size, where its bearing is no longer near to a straight line. */
export function isNear(known: LonLat, at: LonLat, covariance: Covariance, factor: number): boolean {
  const [east, north] = offset(at, known);
  return squaredDeviations(covariance, east, north) < 4 * factor;
}
