/**
 * Angles in degrees. Bearings are branded by their north so that the compiler refuses a grid bearing
 * where a magnetic one is asked for; only the constructors here cast.
 */

declare const north: unique symbol;
export type TrueBearing = number & { readonly [north]: "true" };
export type GridBearing = number & { readonly [north]: "grid" };
export type MagneticBearing = number & { readonly [north]: "magnetic" };

export const DEG = Math.PI / 180;

/** Into 0 ≤ angle < 360. */
export function normalise360(degrees: number): number {
  const a = degrees % 360;
  // The second remainder catches −1e-17 % 360, which would otherwise come out as 360; "+ 0" turns −0 into 0.
  return a < 0 ? (a + 360) % 360 : a + 0;
}

/** Into −180 ≤ angle < 180: the smaller way round from one bearing to another. */
export function normalise180(degrees: number): number {
  return normalise360(degrees + 180) - 180;
}

export const trueBearing = (degrees: number): TrueBearing => normalise360(degrees) as TrueBearing;
export const gridBearing = (degrees: number): GridBearing => normalise360(degrees) as GridBearing;
export const magneticBearing = (degrees: number): MagneticBearing => normalise360(degrees) as MagneticBearing;

/** magnetic = true − declination (declination east positive). */
export const trueToMagnetic = (bearing: TrueBearing, declinationDeg: number): MagneticBearing =>
  magneticBearing(bearing - declinationDeg);
/** true = magnetic + declination. */
export const magneticToTrue = (bearing: MagneticBearing, declinationDeg: number): TrueBearing =>
  trueBearing(bearing + declinationDeg);
/** grid = true − convergence (convergence: grid north minus true north, east positive). */
export const trueToGrid = (bearing: TrueBearing, convergenceDeg: number): GridBearing =>
  gridBearing(bearing - convergenceDeg);
/** true = grid + convergence. */
export const gridToTrue = (bearing: GridBearing, convergenceDeg: number): TrueBearing =>
  trueBearing(bearing + convergenceDeg);

/** The opposite way on the same north. */
export function backBearing<B extends TrueBearing | GridBearing | MagneticBearing>(bearing: B): B {
  return normalise360(bearing + 180) as B;
}
