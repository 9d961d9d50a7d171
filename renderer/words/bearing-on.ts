/** A bearing as it is dialled, with its north named: "312° mag". */
import { toUtm } from "../../core/geodesy/utm.ts";
import { type Compass, formatOn, type North } from "../../core/legs/norths/bearing-to-set.ts";
import { trueToGrid, trueToMagnetic, type TrueBearing } from "../../core/units/angle.ts";
import type { LonLat } from "../../core/units/position.ts";
import { words } from "./words.ts";

/** On the wanted north; true where that cannot be had. */
export function bearingOnNorth(
  bearing: TrueBearing,
  at: LonLat,
  north: North,
  declinationDeg: number | null,
  compass: Compass,
): string {
  if (north === "magnetic" && declinationDeg !== null)
    return `${formatOn(compass, trueToMagnetic(bearing, declinationDeg))} ${words.northShort.magnetic}`;
  if (north === "grid")
    return `${formatOn(compass, trueToGrid(bearing, toUtm(at).convergenceDeg))} ${words.northShort.grid}`;
  return `${formatOn(compass, bearing)} ${words.northShort.true}`;
}
