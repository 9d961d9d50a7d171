/** The three norths at a leg: what turns its true bearing into the one set on a compass or read off the grid. */
import { declinationAt } from "../../geodesy/declination.ts";
import { toUtm } from "../../geodesy/utm.ts";
import { backBearing, trueToGrid, trueToMagnetic, type TrueBearing } from "../../units/angle.ts";
import { formatNumber } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import { declinationNotes, declinationsAt } from "./declinations.ts";
import type { LegFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";

type NorthFigures = Pick<
  LegFigures,
  | "bearingTrueDeg"
  | "bearingGridDeg"
  | "bearingMagneticDeg"
  | "backBearingMagneticDeg"
  | "gridConvergenceDeg"
  | "declinationDeg"
  | "declinationModelDeg"
  | "declinationPrintedDeg"
  | "declinationUncertaintyDeg"
  | "declinationChangeDeg"
  | "beyondModel"
>;

export interface NorthsAt {
  /** True bearing of the geodesic at the start; null for a leg without length. */
  readonly bearing: TrueBearing | null;
  readonly from: LonLat;
  readonly middle: LonLat;
  readonly to: LonLat;
  /** Height of the middle, metres; null takes sea level. */
  readonly heightM: number | null;
}

/**
 * A leg's bearings on all three norths. The true bearing is that of the geodesic at the start, and convergence is taken
 * there too: the grid bearing is then the one a protractor reads where the leg begins. Declination is that of the middle,
 * which is nearest to what the needle shows on the way.
 * @throws Fault "bad-argument" for a position or day that is none, or a printed declination that cannot be
 */
export function northFigures(
  { bearing, from, middle, to, heightM }: NorthsAt,
  settings: Pick<LegSettings, "date" | "declination" | "graduationDeg">,
): { readonly figures: NorthFigures; readonly notes: readonly string[] } {
  const { convergenceDeg } = toUtm(from);
  const declinations = declinationsAt(middle, heightM, convergenceDeg, settings);
  const { deg, model, printed } = declinations;
  const magnetic = bearing !== null && deg !== null ? trueToMagnetic(bearing, deg) : null;
  const modelRules = declinations.from === "model";
  const at = (lonLat: LonLat): number => declinationAt(lonLat, heightM ?? 0, settings.date, true).deg;
  const changeDeg = model ? at(to) - at(from) : null;
  return {
    figures: {
      bearingTrueDeg: bearing,
      bearingGridDeg: bearing === null ? null : trueToGrid(bearing, convergenceDeg),
      bearingMagneticDeg: magnetic,
      backBearingMagneticDeg: magnetic === null ? null : backBearing(magnetic),
      gridConvergenceDeg: convergenceDeg,
      declinationDeg: deg,
      declinationModelDeg: model?.deg ?? null,
      declinationPrintedDeg: printed?.deg ?? null,
      declinationUncertaintyDeg: modelRules && model ? model.uncertaintyDeg : null,
      declinationChangeDeg: changeDeg,
      beyondModel: modelRules && model?.beyondModel === true,
    },
    notes: [...declinationNotes(declinations), ...changeNotes(changeDeg, settings.graduationDeg)],
  };
}

function changeNotes(changeDeg: number | null, graduationDeg: number): string[] {
  if (changeDeg === null || Math.abs(changeDeg) <= graduationDeg) return [];
  return [
    `Declination changes by ${formatNumber(Math.abs(changeDeg), 1)}° along the leg, more than a mark of the compass: set it anew on the way.`,
  ];
}
