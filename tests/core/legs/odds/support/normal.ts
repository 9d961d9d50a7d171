/** The normal distribution worked out by quadrature of its density, for checks: nothing of it comes from the code checked. */

export const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);

/** Simpson's rule over an even number of steps. */
export function integral(f: (x: number) => number, from: number, to: number, steps = 400): number {
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let i = 1; i < steps; i++) sum += f(from + i * h) * (i % 2 === 1 ? 4 : 2);
  return (sum * h) / 3;
}

/** Share of a standard normal spread below x. */
export const below = (x: number): number => (x <= -9 ? 0 : x >= 9 ? 1 : 0.5 + integral(density, 0, x));
/** Share between two values of a normal spread about 0. */
export const between = (low: number, high: number, sd: number): number =>
  sd === 0 ? (low <= 0 && high >= 0 ? 1 : 0) : below(high / sd) - below(low / sd);

/** Share of a two-dimensional normal spread, independent along and across, within a radius of its middle. */
export const withinRadius = (r: number, alongSd: number, acrossSd: number): number =>
  // t = r sin φ: smooth to the ends, where the chord shrinks to nothing.
  integral(
    (phi) => {
      const [t, half] = [r * Math.sin(phi), r * Math.cos(phi)];
      return (density(t / acrossSd) / acrossSd) * between(-half, half, alongSd) * half;
    },
    -Math.PI / 2,
    Math.PI / 2,
    200,
  );
