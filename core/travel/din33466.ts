/**
 * Walking time as on the signposts of the German and Austrian alpine clubs.
 * Source: DIN 33466:2003-03 as applied in the clubs' trail handbooks (the standard itself not read): 4 km/h on the
 * map; 300 m/h up and 500 m/h down added to one vertical time; the larger of the two and half the smaller.
 */
import { Fault } from "../fault.ts";

/**
 * Time in seconds.
 * @param distanceM map distance, metres
 * @param climbM sum of rises, metres, ≥ 0
 * @param descentM sum of falls, metres, ≥ 0
 * @throws Fault "bad-argument" for a figure that is negative or not finite
 */
export function din33466TimeS(distanceM: number, climbM: number, descentM: number): number {
  if (!(distanceM >= 0 && climbM >= 0 && descentM >= 0 && distanceM + climbM + descentM < Infinity))
    throw new Fault(
      "bad-argument",
      `Distance, climb and descent must be 0 or more, not ${distanceM}, ${climbM} and ${descentM} m.`,
    );
  const horizontal = distanceM / 4000;
  const vertical = climbM / 300 + descentM / 500;
  return (Math.max(horizontal, vertical) + Math.min(horizontal, vertical) / 2) * 3600;
}
