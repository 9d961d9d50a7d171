/** How surely a place is known, how far and on which bearing to go, in the person's units and north. */
import type { ErrorEllipse } from "../../core/fix/ellipse.ts";
import { toUtm } from "../../core/geodesy/utm.ts";
import { dialledNorth } from "../../core/legs/norths/bearing-to-set.ts";
import { declinationsAt } from "../../core/legs/norths/declinations.ts";
import type { TrueBearing } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import { formatBearing, formatLength } from "../../core/units/format.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { walk } from "../walk-state/walk-document.ts";
import { bearingOnNorth } from "../words/bearing-on.ts";
import { fixWords } from "../words/fix-words.ts";

export const shownLength = (metres: number): string => formatLength(metres, lengthUnit.value);

export const sureText = ({ semiMajorM, semiMinorM, bearing }: ErrorEllipse): string =>
  fixWords.sure(
    shownLength(semiMajorM),
    shownLength(semiMinorM),
    formatBearing(bearing),
    formatBearing(bearing + 180),
  );

/** A bearing from a place as it is set on the compass. */
export function dialled(bearing: TrueBearing, at: LonLat): string {
  const { date, declination, north } = walk.value;
  const declined = declinationsAt(at, null, toUtm(at).convergenceDeg, { date, declination }).deg;
  const { compass } = settings.value;
  return bearingOnNorth(bearing, at, dialledNorth(compass, north), declined, compass);
}
