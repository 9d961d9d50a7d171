/** The density of where a count ends, for a start that is a place, or anywhere on a stretch of a leg. */
import { normalShare } from "./chi-square.ts";
import { type Covariance, squaredDeviations } from "./ellipse.ts";

export interface EndDensity {
  /** Logarithm of the density, up to a constant. */
  log(eastM: number, northM: number): number;
  /** Square of the standard deviations off the end that fits best. */
  squared(eastM: number, northM: number): number;
  /** Share of the stretch, 0 to 1, from which the end fits best; 0 without one. */
  share(eastM: number, northM: number): number;
}

/**
 * @param end of the count when started at the stretch's beginning, metres east and north
 * @param stretch from its beginning to its end, metres east and north; [0, 0] for a place
 *
 * Every start on the stretch is as likely as any other. In axes in which the spread is a circle of one (whitened by
 * Cholesky's factor) the density is that of a normal spread across the stretch times the share of one along it.
 * Source: convolution of a normal and an even spread, closed form.
 */
export function endDensity(
  covariance: Covariance,
  end: readonly [eastM: number, northM: number],
  stretch: readonly [eastM: number, northM: number],
): EndDensity {
  const { ee, en, nn } = covariance;
  const l11 = Math.sqrt(ee);
  const l21 = en / l11;
  const l22 = Math.sqrt(nn - l21 * l21);
  const whiten = (e: number, n: number): readonly [number, number] => {
    const x = e / l11;
    return [x, (n - l21 * x) / l22];
  };
  const [wx, wy] = whiten(...stretch);
  const long = Math.hypot(wx, wy);
  const shareAt = (e: number, n: number): number => {
    if (long === 0) return 0;
    const [x, y] = whiten(e - end[0], n - end[1]);
    return Math.min(1, Math.max(0, (x * wx + y * wy) / (long * long)));
  };
  const squared = (e: number, n: number): number => {
    const t = shareAt(e, n);
    return squaredDeviations(covariance, e - end[0] - t * stretch[0], n - end[1] - t * stretch[1]);
  };
  return {
    squared,
    share: shareAt,
    log(e, n) {
      if (long === 0) return -squared(e, n) / 2;
      const [x, y] = whiten(e - end[0], n - end[1]);
      const along = (x * wx + y * wy) / long;
      const across = (x * wy - y * wx) / long;
      const within = normalShare(long - along) - normalShare(-along);
      return within > 0 ? -(across * across) / 2 + Math.log(within) : -Infinity;
    },
  };
}
