/**
 * Walking time as on Swiss signposts: a polynomial in the slope, summed over the profile.
 * Source: the footpath federation's formula as published in the viewer of the Swiss federal geoportal
 * (geoadmin/web-mapviewer, ElevationProfile), which names it as its origin. It is made for slopes up to 25 %; as in
 * that viewer it is used to 40 %, and beyond that a straight line stands in. At 40 % the two meet with a step.
 */
import type { Stretch } from "./stretches.ts";

/** Minutes for a kilometre: sum of Cᵢ sⁱ, s the slope in tenths (10 % is 1). */
const C = [
  14.271, 3.6991, 2.5922, -1.4384, 0.32105, 0.81542, -0.090261, -0.20757, 0.010192, 0.028588, -0.00057466,
  -0.0021842, 1.5176e-5, 8.6894e-5, -1.3584e-7, -1.4026e-6,
] as const;

/** Slope up to which the polynomial holds, and the straight line's minutes for a kilometre and a tenth of slope. */
const LIMIT = 4;
const BEYOND_UP = 17;
const BEYOND_DOWN = -9;

/** Minutes for a kilometre on the map at a slope given as rise over run. */
export function swissMinutesPerKm(slope: number): number {
  const s = slope * 10;
  if (s >= LIMIT) return BEYOND_UP * s;
  if (s <= -LIMIT) return BEYOND_DOWN * s;
  return C.reduceRight((sum, c) => sum * s + c, 0);
}

/** Time in seconds over stretches of one slope each. */
export function swissTimeS(stretches: readonly Stretch[]): number {
  let seconds = 0;
  for (const { runM, riseM } of stretches) seconds += (swissMinutesPerKm(riseM / runM) * runM * 60) / 1000;
  return seconds;
}
