/**
 * What to do to a bearing to get from one north to another, in words.
 * Source: US Army TC 3-25.26 (2013), para 6-13 and table 6-1: with an easterly angle add from magnetic to grid and
 * subtract from grid to magnetic; with a westerly one the reverse.
 */
import { formatEastWest, formatNumber } from "../units/format.ts";

export interface NorthRule {
  /** Magnetic minus the map's north, degrees, east positive. */
  readonly angleDeg: number;
  /** "map to compass: subtract 9°" */
  readonly toMagnetic: string;
  /** "compass to map: add 9°" */
  readonly fromMagnetic: string;
  /** "magnetic north lies 9° E of grid north" */
  readonly reason: string;
}

/** The grid–magnetic angle: magnetic north minus grid north, degrees, east positive. */
export const gridMagneticAngle = (declinationDeg: number, convergenceDeg: number): number =>
  declinationDeg - convergenceDeg;

/**
 * @param angleDeg declination for a map measured from true north, grid–magnetic angle for one measured from its grid
 * @param mapNorth which of the two
 * @param decimals figures after the point
 */
export function northRule(angleDeg: number, mapNorth: "true" | "grid", decimals = 0): NorthRule {
  const size = `${formatNumber(Math.abs(angleDeg), decimals)}°`;
  const none = Number(Math.abs(angleDeg).toFixed(decimals)) === 0;
  const [to, from] = angleDeg > 0 ? ["subtract", "add"] : ["add", "subtract"];
  return {
    angleDeg,
    toMagnetic: none ? "map to compass: change nothing" : `map to compass: ${to} ${size}`,
    fromMagnetic: none ? "compass to map: change nothing" : `compass to map: ${from} ${size}`,
    reason: none
      ? `magnetic north and ${mapNorth} north agree`
      : `magnetic north lies ${formatEastWest(angleDeg, decimals)} of ${mapNorth} north`,
  };
}
