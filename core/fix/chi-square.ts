/**
 * Shares of chance: of a normal spread, and that a sum of squared standard errors comes out larger than it did.
 * Source: M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions (1964), 26.4.4 and 26.4.5 (the tail as a
 * finite sum); erfc by 7.1.26, within 1.5e-7; numbers from memory, figures held to a table in the tests.
 */

/** Complementary error function for x ≥ 0. */
function erfc(x: number): number {
  const t = 1 / (1 + 0.3275911 * x);
  const series =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  return series * Math.exp(-x * x);
}

/** The share of a normal spread that lies below z standard deviations, 0 to 1. */
export const normalShare = (z: number): number => {
  const tail = erfc(Math.abs(z) / Math.SQRT2) / 2;
  return z < 0 ? tail : 1 - tail;
};

/**
 * Upper tail of chi-square, 0 to 1; 1 when there are no degrees of freedom, since then nothing is tested.
 * @param x the sum, 0 or more
 * @param degrees whole number of degrees of freedom
 */
export function chiSquareTail(x: number, degrees: number): number {
  if (degrees <= 0 || !(x > 0)) return 1;
  const half = x / 2;
  const odd = degrees % 2 === 1;
  let tail = odd ? erfc(Math.sqrt(half)) : Math.exp(-half);
  // From k to k + 2 degrees the tail grows by (x/2)^(k/2) e^(−x/2) / Γ(k/2 + 1).
  let term = odd ? Math.sqrt(half) * Math.exp(-half) * (2 / Math.sqrt(Math.PI)) : half * Math.exp(-half);
  for (let k = odd ? 1 : 2; k < degrees; k += 2) {
    tail += term;
    term *= half / (k / 2 + 1);
  }
  return Math.min(1, tail);
}
