/**
 * A smooth curve through heights that makes no hill or hollow of its own: between two heights it stays between them.
 * Source: F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants,
 * SIAM J. Sci. Stat. Comput. 5 (1984) 300–304.
 */

export interface Knot {
  readonly atM: number;
  readonly heightM: number;
}

/**
 * @param knots at least one, in strictly rising order of `atM`
 * @param at where heights are wanted, rising; outside the knots the nearest knot's height is taken
 * @returns metres, one for each of `at`
 */
export function monotoneCurve(knots: readonly Knot[], at: readonly number[]): number[] {
  const n = knots.length;
  const x = knots.map((k) => k.atM);
  const y = knots.map((k) => k.heightM);
  const width = (i: number): number => (x[i + 1] as number) - (x[i] as number);
  const chord = (i: number): number => ((y[i + 1] as number) - (y[i] as number)) / width(i);
  const slope = x.map((_, i) => {
    if (n === 1) return 0;
    if (i === 0) return chord(0);
    if (i === n - 1) return chord(n - 2);
    const [before, after] = [chord(i - 1), chord(i)];
    if (before * after <= 0) return 0;
    const w1 = 2 * width(i) + width(i - 1);
    const w2 = width(i) + 2 * width(i - 1);
    return (w1 + w2) / (w1 / before + w2 / after);
  });
  let i = 0;
  return at.map((d) => {
    while (i < n - 2 && (x[i + 1] as number) < d) i++;
    if (n === 1 || d <= (x[0] as number)) return y[0] as number;
    if (d >= (x[n - 1] as number)) return y[n - 1] as number;
    const h = width(i);
    const t = (d - (x[i] as number)) / h;
    const [a, b] = [y[i] as number, y[i + 1] as number];
    const [p, q] = [(slope[i] as number) * h, (slope[i + 1] as number) * h];
    // Cubic Hermite form.
    return a + t * (p + t * (3 * (b - a) - 2 * p - q + t * (2 * (a - b) + p + q)));
  });
}
