/**
 * Sine, cosine and logarithm from additions, multiplications and divisions alone, in a fixed order. The standard leaves
 * the last digits of `Math.sin`, `Math.cos` and `Math.log` to each engine (ECMA-262, "implementation-approximated");
 * the odds of a leg have to be the same on every machine, so they rest on IEEE 754 arithmetic only.
 */

/** Taylor's series, |x| ≤ π/4: within 1e-11. */
const sineNear0 = (x: number): number => {
  const y = x * x;
  return x * (1 + y * (-1 / 6 + y * (1 / 120 + y * (-1 / 5040 + y * (1 / 362_880 - y / 39_916_800)))));
};
const cosineNear0 = (x: number): number => {
  const y = x * x;
  return (
    1 +
    y * (-1 / 2 + y * (1 / 24 + y * (-1 / 720 + y * (1 / 40_320 + y * (-1 / 3_628_800 + y / 479_001_600)))))
  );
};

const QUARTER = Math.PI / 4;

/** Sine of an angle in radians, |x| ≤ π: within 1e-10. */
export function sine(x: number): number {
  if (x <= QUARTER && x >= -QUARTER) return sineNear0(x);
  // Twice the double angle: sin 4y = 4 sin y cos y cos 2y.
  const c = cosineNear0(x / 4);
  return 4 * sineNear0(x / 4) * c * (2 * c * c - 1);
}

/** Cosine of an angle in radians, |x| ≤ π: within 1e-10. */
export function cosine(x: number): number {
  if (x <= QUARTER && x >= -QUARTER) return cosineNear0(x);
  const c = cosineNear0(x / 4);
  const double = 2 * c * c - 1;
  return 2 * double * double - 1;
}

const ROOT_HALF = Math.SQRT1_2;

/** Natural logarithm of 0 < x ≤ 1: within 1e-13 of its size. Halvings are counted, then ln m = 2 artanh((m−1)/(m+1)). */
export function lnOfShare(x: number): number {
  let m = x;
  let halvings = 0;
  while (m < ROOT_HALF) {
    m *= 2;
    halvings++;
  }
  const f = (m - 1) / (m + 1);
  const y = f * f;
  let series = 0;
  for (let k = 17; k >= 1; k -= 2) series = series * y + 1 / k;
  return 2 * f * series - halvings * Math.LN2;
}

/** x · x: `**` is one of the functions left to the engine. */
export const square = (x: number): number => x * x;
