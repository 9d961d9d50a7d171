/** The three norths at a leg: what turns its true bearing into the one set on a compass or read off the grid. */
import { declinationAt, type Declination } from "../geodesy/declination.ts";
import { toUtm } from "../geodesy/utm.ts";
import { backBearing, trueToGrid, trueToMagnetic, type TrueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { Fault } from "../fault.ts";
import type { LegFigures } from "./figures.ts";

export interface DeclinationOrReason {
  readonly declination: Declination | null;
  /** Why there is none, or a caution about it; null when there is nothing to say. */
  readonly note: string | null;
}

/**
 * Declination at a place on a day, or why there is none.
 * @param heightM metres; null takes sea level, which 1000 m of height change by about 0.01°
 * @throws Fault other than "out-of-range", such as "bad-argument" for a day that is none
 */
export function declinationOrReason(
  lonLat: LonLat,
  heightM: number | null,
  date: string,
): DeclinationOrReason {
  try {
    const declination = declinationAt(lonLat, heightM ?? 0, date);
    const { zone } = declination;
    const note =
      zone === "blackout"
        ? "So near a magnetic pole a compass is useless here."
        : zone === "caution"
          ? "So near a magnetic pole a compass may be unreliable here."
          : null;
    return { declination, note };
  } catch (thrown) {
    if (thrown instanceof Fault && thrown.code === "out-of-range")
      return { declination: null, note: `No magnetic bearing: ${thrown.what}` };
    throw thrown;
  }
}

type NorthFigures = Pick<
  LegFigures,
  | "bearingTrueDeg"
  | "bearingGridDeg"
  | "bearingMagneticDeg"
  | "backBearingMagneticDeg"
  | "gridConvergenceDeg"
  | "declinationDeg"
>;

/**
 * A leg's bearings on all three norths. Declination and convergence are those at the leg's middle.
 * @param bearing true bearing at the start; null for a leg without length
 */
export function northFigures(
  bearing: TrueBearing | null,
  middle: LonLat,
  heightM: number | null,
  date: string,
): { readonly figures: NorthFigures; readonly notes: readonly string[] } {
  const { declination, note } = declinationOrReason(middle, heightM, date);
  const { convergenceDeg } = toUtm(middle);
  const magnetic = bearing !== null && declination ? trueToMagnetic(bearing, declination.deg) : null;
  return {
    figures: {
      bearingTrueDeg: bearing,
      bearingGridDeg: bearing === null ? null : trueToGrid(bearing, convergenceDeg),
      bearingMagneticDeg: magnetic,
      backBearingMagneticDeg: magnetic === null ? null : backBearing(magnetic),
      gridConvergenceDeg: convergenceDeg,
      declinationDeg: declination?.deg ?? null,
    },
    notes: note === null ? [] : [note],
  };
}
