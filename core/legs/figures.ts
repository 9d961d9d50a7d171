/**
 * Everything Legwright says of one leg. The shape is the JSON contract of the leg table:
 * fields may be added, never renamed. Lengths m, times s, angles °, shares 0–1; a figure that cannot be had
 * is null and `notes` says why.
 */
import type { GridBearing, MagneticBearing, TrueBearing } from "../units/angle.ts";
import type { BlindStretch } from "../map/blind-along.ts";
import type { LonLat } from "../units/position.ts";
import type { AimOff } from "./aids/aim-off.ts";
import type { AttackPoint } from "./aids/attack-points.ts";
import type { Hazard } from "./aids/hazards.ts";
import type { SteeringMarks } from "./aids/steering-marks.ts";
import type { TickMark } from "./aids/tick-marks.ts";
import type { Backstop, Crossing, Handrail } from "./line-aids.ts";
import type { LegLandform } from "../terrain/landforms/landforms-along.ts";
import type { Sight } from "../terrain/line-of-sight.ts";
import type { Profile } from "../terrain/profile.ts";

/**
 * Something met on the way: a line of the map; an index contour ("contour", seen on the map only); a spur, draw, ridge or
 * valley read from the terrain; a sharp change of slope ("rise" on ground that climbs, "drop" on ground that falls, "steep"
 * where it becomes steep).
 */
export type { Backstop, Crossing, Handrail } from "./line-aids.ts";

/** One sentence of the description of a leg, to be checked off on the ground. */
export interface WayStep {
  /** Where it begins to hold, metres from the start. */
  readonly atM: number;
  /** Where it ends: `atM` for what is met at one place. */
  readonly toM: number;
  /** Paces from the start of the leg to `atM`. */
  readonly paces: number;
  /** At `atM`; null where the heights are missing. */
  readonly elevationM: number | null;
  readonly words: string;
}

/** An attack point with what is dialled and counted from there. */
export interface AttackPointFigure extends AttackPoint {
  readonly bearingMagneticDeg: MagneticBearing | null;
  readonly paces: number;
}

export interface AimOffFigure extends AimOff {
  readonly bearingMagneticDeg: MagneticBearing | null;
}

export interface AidFigures {
  /** Best first, at most three; none where the target is not hard. */
  readonly attackPoints: readonly AttackPointFigure[];
  /** Whether the target is hard to find, and why, a sentence; null where it is not known. */
  readonly targetIsHard: { readonly hard: boolean; readonly because: string } | null;
  readonly aimOff: AimOffFigure | null;
  /** Within the drift cone, in the order one comes to them. */
  readonly hazards: readonly Hazard[];
  /** Dangers that the map or the terrain cannot show here, and how far those shown are to be trusted; sentences. */
  readonly hazardNotes: readonly string[];
  readonly steering: SteeringMarks;
  /** Of what is met on the way, what tells most. */
  readonly tickMarks: readonly TickMark[];
}

export interface LegFigures extends AidFigures {
  /** The leg is to be walked on the bearing of `aimOff`, not on its own. */
  readonly aimsOff: boolean;
  readonly n: number;
  readonly from: string;
  readonly to: string;
  readonly fromLonLat: LonLat;
  readonly toLonLat: LonLat;
  readonly bearingTrueDeg: TrueBearing | null;
  readonly bearingGridDeg: GridBearing | null;
  readonly bearingMagneticDeg: MagneticBearing | null;
  readonly backBearingMagneticDeg: MagneticBearing | null;
  /** At the start of the leg, where a protractor is laid on the map's grid. */
  readonly gridConvergenceDeg: number | null;
  /** The one that rules, at the middle of the leg. */
  readonly declinationDeg: number | null;
  /** By the magnetic model, and by the map's margin brought to the day; null when it cannot be had or was not given. */
  readonly declinationModelDeg: number | null;
  readonly declinationPrintedDeg: number | null;
  /** One standard deviation of the model; null when the printed value rules, of which no error is known. */
  readonly declinationUncertaintyDeg: number | null;
  /** How much the declination grows from start to end of the leg, by the model, degrees, east positive. */
  readonly declinationChangeDeg: number | null;
  /** The declination that rules is the model's, carried on beyond its years: the magnetic bearings are not to be trusted. */
  readonly beyondModel: boolean;
  readonly distanceM: number;
  /** How far a walker who keeps the one true bearing strays from the straight leg, metres, right positive; null when not known. */
  readonly rhumbOffsetM: number | null;
  readonly slopeDistanceM: number | null;
  readonly climbM: number | null;
  readonly descentM: number | null;
  readonly steepestDeg: number | null;
  readonly elevationErrorM: number | null;
  readonly paces: number | null;
  /** Whether the counts going up and down were used along the profile, here and at the crossings. */
  readonly pacesOnSlope: boolean;
  /** Walking time with the party's factors and rests. */
  readonly timeS: number | null;
  /** The same for walking the leg back. */
  readonly timeBackS: number | null;
  /** When the end of the leg is reached: local date and time with the offset from UTC, "2026-06-15T09:42:00+01:00". */
  readonly arrival: string | null;
  /** Running totals at the end of this leg. */
  readonly runningDistanceM: number;
  readonly runningTimeS: number | null;
  readonly crossings: readonly Crossing[];
  /** Hills, saddles, ridges, valleys, spurs, draws, depressions and cliffs on the way, in order. */
  readonly landforms: readonly LegLandform[];
  /** Why landforms are missing or fewer than there may be; null when they were read from terrain. */
  readonly landformsReason: string | null;
  /** From the start towards the end, over bare ground. */
  readonly sight: Sight;
  /** Where the map cannot tell what is there; what is crossed on these stretches is not known. */
  readonly blind: readonly BlindStretch[];
  /** The leg in plain words, in order of walking. */
  readonly onTheWay: readonly WayStep[];
  readonly handrails: readonly Handrail[];
  readonly backstop: Backstop | null;
  /** What stops those who go on past a weak backstop; null when there is none or none is needed. */
  readonly secondBackstop: Backstop | null;
  /** How the backstop will look on the ground, a sentence. */
  readonly backstopLooks: string | null;
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

/** The declination at the middle of the walk, and the one it is compared with. */
export interface DeclinationFigure {
  /** The one that rules, degrees, east positive. */
  readonly deg: number | null;
  /** One standard deviation of the model; null when the printed value rules, of which no error is known. */
  readonly uncertaintyDeg: number | null;
  /** Of the one that rules. */
  readonly annualChangeDeg: number | null;
  /** Name of the magnetic model, whichever rules. */
  readonly model: string | null;
  /** Which rules. */
  readonly from: "model" | "printed";
  readonly modelDeg: number | null;
  readonly modelUncertaintyDeg: number | null;
  /** The map's margin brought to the day of the walk; null when none was entered. */
  readonly printedDeg: number | null;
  /** Years from the printed value to the walk. */
  readonly printedAgeYears: number | null;
  /** Printed less model. */
  readonly differenceDeg: number | null;
  /** The model was carried on beyond its years because the person insisted. */
  readonly beyondModel: boolean;
  /** Whether a compass is reliable here, by the model. */
  readonly zone: "ok" | "caution" | "blackout" | null;
  /** Grid north less true north at the same place. */
  readonly gridConvergenceDeg: number | null;
}

/** The day's light at the middle of the walk. Instants as `arrival`; null when the sun does not come there that day. */
export interface DaylightFigure {
  readonly civilDawn: string | null;
  readonly sunrise: string | null;
  readonly sunset: string | null;
  readonly civilDusk: string | null;
  /** The sun stays up, or down, all day. */
  readonly allDay: "up" | "down" | null;
  /** Whether any of the walk lies between civil dusk and civil dawn; null when its hours are not known. */
  readonly dark: boolean | null;
  /** Light left on arriving, seconds; negative after sunset; null when the hours are not known or the sun does not set. */
  readonly beforeSunsetS: number | null;
}

/** The whole answer for a walk. */
export interface WalkFigures {
  readonly declination: DeclinationFigure;
  readonly legs: readonly LegFigures[];
  readonly totals: Totals;
  /** When it is to begin, as `arrival`; null when that is not decided. */
  readonly start: string | null;
  /** Null for a walk without points. */
  readonly daylight: DaylightFigure | null;
  /**
   * The latest time to turn round and walk the same way back so as to be at the start by `backBy` or sunset, as `arrival`.
   * Null when times are not known, and for a walk that comes back to its start early enough wherever one turns.
   */
  readonly turnBackBy: string | null;
  /** Time zone of all clock times: its name, such as "Europe/Oslo". */
  readonly timeZone: string;
  readonly notes: readonly string[];
}
