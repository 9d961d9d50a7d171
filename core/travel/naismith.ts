/**
 * Walking time by Naismith's rule.
 * Source: W. W. Naismith, Scottish Mountaineering Club Journal 2 (1892) 136: an hour for every three miles on the
 * map with an hour more for every 2000 feet of ascent. The customary metric form is 5 km/h and 600 m/h, which gives
 * about 2 % less.
 */
import { Fault } from "../fault.ts";

export type NaismithForm = "metric" | "1892";

const RATES: Record<NaismithForm, { readonly flatMPerH: number; readonly upMPerH: number }> = {
  metric: { flatMPerH: 5000, upMPerH: 600 },
  "1892": { flatMPerH: 3 * 1609.344, upMPerH: 2000 * 0.3048 },
};

/**
 * Time in seconds.
 * @param distanceM map distance, metres
 * @param climbM sum of the rises, metres; descent takes no extra time by this rule
 * @throws Fault "bad-argument" for a figure that is negative or not finite
 */
export function naismithTimeS(distanceM: number, climbM: number, form: NaismithForm = "metric"): number {
  if (!(distanceM >= 0 && climbM >= 0 && distanceM + climbM < Infinity))
    throw new Fault(
      "bad-argument",
      `Distance and climb must be 0 or more, not ${distanceM} m and ${climbM} m.`,
    );
  const { flatMPerH, upMPerH } = RATES[form];
  return (distanceM / flatMPerH + climbM / upMPerH) * 3600;
}
