/** What a fix tells: the place, how surely it is known, how the bearings agree, and what is wrong with them. */
import type { TrueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import type { Covariance, ErrorEllipse } from "./ellipse.ts";

export type FixWarningCode =
  | "two-only" // nothing checks two bearings
  | "narrow" // no two bearings cross at more than 30°
  | "elongated" // the ellipse is long and thin
  | "rough" // the ellipse is large against the distances: its shape is only roughly right
  | "near-known" // a known point lies so near that its bearing may be anything
  | "beyond" // a bearing points away from its known point
  | "inconsistent" // the bearings disagree by more than their errors
  | "suspect" // one of them does not go with the others
  | "reversed" // one of them agrees with the others when it is turned round
  | "turned" // all agree when they are turned together
  | "declination"; // the compass or the model is not to be trusted here

export interface FixWarning {
  readonly code: FixWarningCode;
  /** A sentence or two. */
  readonly words: string;
}

/** One bearing as it stands at the fix. */
export interface FixedBearing {
  readonly name: string;
  readonly known: LonLat;
  /** The reading as a true bearing where it was taken, with the norths used. */
  readonly trueDeg: TrueBearing;
  readonly declinationDeg: number | null;
  readonly convergenceDeg: number | null;
  /** Way of its line from the known point, true: for drawing it. */
  readonly fromKnown: TrueBearing;
  readonly distanceM: number;
  /** Reading minus what the fix would read, degrees. */
  readonly residualDeg: number;
  /** The residual in its own standard deviations; null when nothing checks this bearing. */
  readonly normalised: number | null;
  /** The fix of the others; null with fewer than three bearings, or when the others meet nowhere. */
  readonly without: FixWithout | null;
}

export interface FixWithout {
  readonly at: LonLat;
  /** How far that is from the fix of all, metres. */
  readonly movedM: number;
  /** As of the fix itself, of the others. */
  readonly chiSquare: number;
  readonly chance: number;
  /** The reading left out minus what it would be there, degrees. */
  readonly offDeg: number;
}

/** Where two of the bearings meet: a corner of the triangle of error. */
export interface Corner {
  readonly pair: readonly [first: number, second: number];
  /** Null when they meet nowhere. */
  readonly at: LonLat | null;
  /** Angle between the two lines, 0–90°. */
  readonly crossingDeg: number;
}

export interface Fix {
  readonly at: LonLat;
  /** Of the bearings' stated errors, east and north at the place, m²; not widened when they disagree. */
  readonly covariance: Covariance;
  readonly ellipse95: ErrorEllipse;
  readonly bearings: readonly FixedBearing[];
  /** Pairwise meetings: three bearings make the triangle of error. */
  readonly corners: readonly Corner[];
  /** Sum of squared residuals by their errors, and how many more bearings there are than needed. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** The chance of a sum as large or larger when the errors are as stated; 1 with two bearings. */
  readonly chance: number;
  /** Which bearing looks wrong, as a place in `bearings`; null when none does or it cannot be told which. */
  readonly suspect: number | null;
  /** Those of which one looks wrong, likeliest first: more than one when the rest agree without either. */
  readonly suspects: readonly number[];
  readonly warnings: readonly FixWarning[];
}
