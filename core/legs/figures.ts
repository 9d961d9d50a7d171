/**
 * Everything Legwright says of one leg. The shape is the JSON contract of the leg table:
 * fields may be added, never renamed. Lengths m, times s, angles °, shares 0–1; a figure that cannot be had
 * is null and `notes` says why.
 */
import type { GridBearing, MagneticBearing, TrueBearing } from "../units/angle.ts";
import type { Kind } from "../map/kinds.ts";
import type { LonLat } from "../units/position.ts";
import type { Profile } from "../terrain/profile.ts";

export interface Crossing {
  readonly kind: Kind;
  readonly name: string | null;
  readonly atM: number;
  readonly elevationM: number | null;
  /** Paces from the start of the leg. */
  readonly paces: number;
  /** Angle at which the leg meets the line, 0–90°: 90 is straight across. */
  readonly crossingDeg: number;
}

export interface Handrail {
  readonly kind: Kind;
  readonly name: string | null;
  readonly side: "left" | "right";
  readonly fromM: number;
  readonly toM: number;
  readonly meanOffsetM: number;
  readonly minOffsetM: number;
  readonly maxOffsetM: number;
  /** Share of the leg it runs beside. */
  readonly coverage: number;
  /** The stretch as drawn, for the map: longitude, latitude … */
  readonly stretches: readonly Float64Array[];
}

export interface Backstop {
  readonly kind: Kind;
  readonly name: string | null;
  /** Beyond the target along the leg's bearing or, if the line is off that, the mean over the walkers stopped. */
  readonly beyondM: number;
  /** Angle at which walkers meet it, 0–90°. */
  readonly crossingDeg: number;
  readonly stoppedShare: number;
  readonly stretches: readonly Float64Array[];
}

export interface LegFigures {
  readonly n: number;
  readonly from: string;
  readonly to: string;
  readonly fromLonLat: LonLat;
  readonly toLonLat: LonLat;
  readonly bearingTrueDeg: TrueBearing | null;
  readonly bearingGridDeg: GridBearing | null;
  readonly bearingMagneticDeg: MagneticBearing | null;
  readonly backBearingMagneticDeg: MagneticBearing | null;
  readonly gridConvergenceDeg: number | null;
  readonly declinationDeg: number | null;
  readonly distanceM: number;
  readonly slopeDistanceM: number | null;
  readonly climbM: number | null;
  readonly descentM: number | null;
  readonly steepestDeg: number | null;
  readonly elevationErrorM: number | null;
  readonly paces: number | null;
  readonly timeS: number | null;
  /** Running totals at the end of this leg. */
  readonly runningDistanceM: number;
  readonly runningTimeS: number | null;
  readonly crossings: readonly Crossing[];
  readonly handrails: readonly Handrail[];
  readonly backstop: Backstop | null;
  readonly notes: readonly string[];
  /** Not part of the JSON contract: what the ribbon draws. */
  readonly profile: Profile;
}

export interface Totals {
  readonly distanceM: number;
  readonly slopeDistanceM: number | null;
  readonly climbM: number | null;
  readonly descentM: number | null;
  readonly paces: number | null;
  readonly timeS: number | null;
}

export interface DeclinationFigure {
  readonly deg: number | null;
  readonly uncertaintyDeg: number | null;
  readonly annualChangeDeg: number | null;
  readonly model: string | null;
  readonly from: "model" | "printed";
}

/** The whole answer for a walk. */
export interface WalkFigures {
  readonly declination: DeclinationFigure;
  readonly legs: readonly LegFigures[];
  readonly totals: Totals;
  readonly notes: readonly string[];
}
