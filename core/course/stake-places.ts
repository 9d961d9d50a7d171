/** Where stakes stand as seen from the corner of the ground, for setting out with a tape along two of its sides. */
import { DEG, magneticBearing, type MagneticBearing } from "../units/angle.ts";
import type { FieldCourse } from "./small-ground.ts";

export interface StakePlace {
  readonly label: string;
  /** Along the longer side and across it to the right, metres from the corner. */
  readonly alongM: number;
  readonly acrossM: number;
  readonly fromCorner: { readonly bearingDeg: MagneticBearing; readonly distanceM: number };
}

/** One for each stake, in order; the corner is the one `first` is counted from. */
export function stakePlaces({ wish: { alongDeg }, stakes, first }: FieldCourse): StakePlace[] {
  const [sin, cos] = [Math.sin(alongDeg * DEG), Math.cos(alongDeg * DEG)];
  return stakes.map(({ label, eastM, northM }) => {
    const alongM = first.alongM + eastM * sin + northM * cos;
    const acrossM = first.acrossM + eastM * cos - northM * sin;
    return {
      label,
      alongM,
      acrossM,
      fromCorner: {
        bearingDeg: magneticBearing(alongDeg + Math.atan2(acrossM, alongM) / DEG),
        distanceM: Math.hypot(alongM, acrossM),
      },
    };
  });
}
