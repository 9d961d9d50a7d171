/** How surely a place is known: its covariance, and the ellipse that holds it 95 times in 100. */
import { DEG, type TrueBearing, trueBearing } from "../units/angle.ts";

/** Variances and covariance of a place's east and north, m². */
export interface Covariance {
  readonly ee: number;
  readonly en: number;
  readonly nn: number;
}

export interface ErrorEllipse {
  /** Half the long axis and half the short one, metres. */
  readonly semiMajorM: number;
  readonly semiMinorM: number;
  /** Way of the long axis, true, 0 up to 180; 0 for a circle. */
  readonly bearing: TrueBearing;
}

/**
 * The 95 % point of chi-square with two degrees of freedom, −2 ln 0.05: a normally distributed place lies within the
 * ellipse of its covariance times this in 95 of 100 cases. Source: closed form, since the tail is exp(−x/2).
 */
export const CHI_SQUARE_95 = -2 * Math.log(0.05);

/**
 * The ellipse of a covariance, the axes being eigenvectors and the squared half axes eigenvalues times `factor`.
 * @param factor 1 for the standard ellipse (39 %), `CHI_SQUARE_95` for that of 95 %
 */
export function ellipseOf({ ee, en, nn }: Covariance, factor = CHI_SQUARE_95): ErrorEllipse {
  const mean = (ee + nn) / 2;
  const half = Math.hypot((ee - nn) / 2, en);
  // A bearing is counted from north: the tangent of twice it is 2·en / (nn − ee).
  const deg = half > 0 ? Math.atan2(2 * en, nn - ee) / 2 / DEG : 0;
  return {
    semiMajorM: Math.sqrt(factor * (mean + half)),
    semiMinorM: Math.sqrt(factor * Math.max(0, mean - half)),
    bearing: trueBearing(deg < 0 ? deg + 180 : deg),
  };
}

/** Squared distance in standard deviations of a place `eastM`, `northM` off; below `CHI_SQUARE_95` inside the ellipse. */
export function squaredDeviations({ ee, en, nn }: Covariance, eastM: number, northM: number): number {
  const det = ee * nn - en * en;
  return (nn * eastM * eastM - 2 * en * eastM * northM + ee * northM * northM) / det;
}

export const addCovariances = (a: Covariance, b: Covariance): Covariance => ({
  ee: a.ee + b.ee,
  en: a.en + b.en,
  nn: a.nn + b.nn,
});

/** A spread of `sd` metres along the direction east, north (a unit vector, or a vector whose length is taken in). */
export const alongCovariance = (eastM: number, northM: number, sd: number): Covariance => ({
  ee: sd * sd * eastM * eastM,
  en: sd * sd * eastM * northM,
  nn: sd * sd * northM * northM,
});
