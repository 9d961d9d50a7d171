/** What is dialled on a compass for a leg: on which north, in which unit, to which of its marks. */
import { normalise360 } from "../../units/angle.ts";
import { ABSENT, type Figure, formatBearing, formatEastWest, formatNumber } from "../../units/format.ts";
import { degreesToMils, formatMils, MILS_PER_CIRCLE } from "../../units/mils.ts";
import { formatQuadrant } from "../../units/quadrant.ts";
import type { AimOff } from "../aids/aim-off.ts";
import type { LegFigures } from "../figures.ts";

/** How a compass is marked. */
export interface Compass {
  readonly unit: "degrees" | "quadrant" | "mils";
  /** Spacing of its marks, degrees, whatever the unit; 10 mils are 0.5625°. */
  readonly graduationDeg: number;
  /** The declination is set on the compass itself, so that the map's own bearings are dialled. */
  readonly adjustable: boolean;
}

export const USUAL_COMPASS: Compass = { unit: "degrees", graduationDeg: 1, adjustable: false };

export type North = "magnetic" | "grid" | "true";

/** The bearings of a leg, and by how much it is to be walked aside of them. */
export interface LegBearings extends Pick<
  LegFigures,
  "bearingMagneticDeg" | "bearingGridDeg" | "bearingTrueDeg"
> {
  readonly aimsOff?: boolean;
  readonly aimOff?: Pick<AimOff, "side" | "offsetDeg"> | null;
}

/** The bearing from end to end on a north, degrees; null when absent. */
const straightOn = (leg: LegBearings, north: North): number | null =>
  ({ magnetic: leg.bearingMagneticDeg, grid: leg.bearingGridDeg, true: leg.bearingTrueDeg })[north];

/** How far aside of the target a leg is walked, degrees, right positive; 0 for straight at it. */
const asideDeg = ({ aimsOff, aimOff }: LegBearings): number =>
  aimsOff && aimOff ? (aimOff.side === "right" ? aimOff.offsetDeg : -aimOff.offsetDeg) : 0;

/** The bearing a leg is walked on, aiming off where the walk says so, on a north, degrees; null when absent. */
export function bearingOn(leg: LegBearings, north: North): number | null {
  const straight = straightOn(leg, north);
  return straight === null ? null : normalise360(straight + asideDeg(leg));
}

/** The way back from end to start: nobody aims off on it. */
export const backBearingOn = (leg: LegBearings, north: North): number | null =>
  turnedBearing(straightOn(leg, north));

/** The opposite way on the same north. */
const turnedBearing = (degrees: number | null): number | null =>
  degrees === null ? null : normalise360(degrees + 180);

/** A bearing in the compass's unit, rounded to its marks: "51°", "N 51° E", "910 mils"; never 360° or 6400 mils. */
export function formatOn({ unit, graduationDeg }: Compass, degrees: Figure): string {
  switch (unit) {
    case "degrees":
      return formatBearing(degrees, { graduationDeg });
    case "quadrant":
      return formatQuadrant(degrees, graduationDeg);
    case "mils":
      return formatMils(degrees, Math.round(degreesToMils(graduationDeg)));
  }
}

/**
 * The north on which a compass is dialled. A needle shows magnetic north, so a plain compass takes magnetic bearings; one
 * that is adjusted to the map takes the map's: true bearings, or grid bearings for who works from the grid.
 */
export function dialledNorth({ adjustable }: Compass, north: North): North {
  if (!adjustable) return "magnetic";
  return north === "grid" ? "grid" : "true";
}

/**
 * East-positive angle to set on an adjustable compass: the declination, or the grid–magnetic angle for grid bearings;
 * null for a plain compass or when it cannot be had.
 */
export function adjustmentDeg(
  compass: Compass,
  north: North,
  declinationDeg: number | null,
  gridConvergenceDeg: number | null,
): number | null {
  const dialled = dialledNorth(compass, north);
  if (dialled === "magnetic" || declinationDeg === null) return null;
  if (dialled === "true") return declinationDeg;
  return gridConvergenceDeg === null ? null : declinationDeg - gridConvergenceDeg;
}

export interface BearingToSet {
  /** Rounded to the compass's marks, 0 up to 360; null when it cannot be had. */
  readonly deg: number | null;
  readonly backDeg: number | null;
  readonly north: North;
  /** In the compass's unit, without its north; a dash when absent. */
  readonly text: string;
  readonly backText: string;
  /** Where the leg is walked aiming off; null for straight at the target. */
  readonly aimedOff: Pick<AimOff, "side" | "offsetDeg"> | null;
  /** East-positive angle that must be set on the compass itself; null for a plain one. */
  readonly adjustmentDeg: number | null;
  /** "set 51° magnetic", "set 65° true with 14.2° E set on the compass"; why not when it cannot be had. */
  readonly words: string;
  /** "back 231° magnetic" */
  readonly backWords: string;
}

/**
 * What to dial for a leg, and for the way back.
 * @param north the one the user works on; it decides only between true and grid on an adjustable compass
 */
export function bearingToSet(
  leg: LegBearings & Pick<LegFigures, "declinationDeg" | "gridConvergenceDeg">,
  compass: Compass,
  north: North,
): BearingToSet {
  const dialled = dialledNorth(compass, north);
  const bearing = bearingOn(leg, dialled);
  const back = backBearingOn(leg, dialled);
  const aimedOff = (leg.aimsOff && leg.aimOff) || null;
  const adjustment = adjustmentDeg(compass, north, leg.declinationDeg, leg.gridConvergenceDeg);
  // An adjustable compass without an angle to set on it points to magnetic north, which its dial does not mean.
  const usable = bearing !== null && (dialled === "magnetic" || adjustment !== null);
  const [text, backText] = usable ? [formatOn(compass, bearing), formatOn(compass, back)] : [ABSENT, ABSENT];
  const adjusted = adjustment === null ? "" : ` with ${formatEastWest(adjustment)} set on the compass`;
  return {
    deg: usable ? markNear(compass, bearing) : null,
    backDeg: usable ? markNear(compass, back as number) : null,
    north: dialled,
    text,
    backText,
    aimedOff,
    adjustmentDeg: adjustment,
    words: usable
      ? `set ${text} ${dialled}${adjusted}${aimedOff ? `, ${formatNumber(aimedOff.offsetDeg)}° ${aimedOff.side} of the target` : ""}`
      : "no bearing to set",
    backWords: usable ? `back ${backText} ${dialled}` : "no bearing back",
  };
}

/** The mark nearest to a bearing, degrees. */
function markNear({ unit, graduationDeg }: Compass, degrees: number): number {
  if (unit !== "mils") return normalise360(Math.round(normalise360(degrees) / graduationDeg) * graduationDeg);
  const spacing = Math.round(degreesToMils(graduationDeg));
  const mils = Math.round(degreesToMils(normalise360(degrees)) / spacing) * spacing;
  return ((mils % MILS_PER_CIRCLE) * 360) / MILS_PER_CIRCLE;
}
