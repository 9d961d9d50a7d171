/**
 * Magnetic declination by the World Magnetic Model, with what is known of its error.
 * Source: NOAA/NCEI and BGS, The US/UK World Magnetic Model for 2025–2030: error model
 * σ(D) = √(0.26² + (5417/H)²) degrees, warning zones by the horizontal intensity H.
 */
import { DEG } from "../units/angle.ts";
import { checkLonLat, type LonLat } from "../units/position.ts";
import { decimalYear } from "./decimal-year.ts";
import { magneticField, type MagneticModelName } from "./magnetic-model.ts";

export interface Declination {
  /** Magnetic north minus true north, degrees, east positive. */
  readonly deg: number;
  /** One standard deviation of the model against the field measured in open country, degrees. */
  readonly uncertaintyDeg: number;
  /** Degrees a year, eastward positive. */
  readonly annualChangeDeg: number;
  readonly model: MagneticModelName;
  /** Horizontal intensity, nanotesla: what turns the needle. */
  readonly horizontalNT: number;
  /** "caution": a compass may be unreliable (H up to 6000 nT); "blackout": it is useless (H up to 2000 nT). */
  readonly zone: "ok" | "caution" | "blackout";
  /** The day lies outside every model and the caller insisted: to be marked wherever the figure is shown. */
  readonly beyondModel: boolean;
}

/**
 * Declination at a place on a day.
 * @param heightM above the ellipsoid or above sea level: the two differ by 110 m at most, which turns the result
 *   by less than 0.005° outside the caution zones
 * @param date YYYY-MM-DD
 * @param beyond true when the user insists on a day no model covers (1950 to 2050): the nearest model is carried on
 * @throws Fault "bad-argument" for a position or day that is none, "out-of-range" for a year or height that no model covers
 */
export function declinationAt(lonLat: LonLat, heightM: number, date: string, beyond = false): Declination {
  return declinationInYear(lonLat, heightM, decimalYear(date), beyond);
}

/** As `declinationAt`, for a decimal year such as 2027.5. */
export function declinationInYear(
  lonLat: LonLat,
  heightM: number,
  year: number,
  beyond = false,
): Declination {
  const field = magneticField(checkLonLat(lonLat), heightM, year, beyond);
  const { northNT: x, eastNT: y, northNTPerYear, eastNTPerYear } = field;
  const horizontalNT = Math.hypot(x, y);
  return {
    deg: Math.atan2(y, x) / DEG,
    // The error model is that of WMM2025; those of its forerunners differ by hundredths of a degree (from memory).
    uncertaintyDeg: Math.hypot(0.26, 5417 / horizontalNT),
    annualChangeDeg: (x * eastNTPerYear - y * northNTPerYear) / (horizontalNT * horizontalNT) / DEG,
    model: field.model,
    horizontalNT,
    zone: horizontalNT <= 2000 ? "blackout" : horizontalNT <= 6000 ? "caution" : "ok",
    beyondModel: field.beyondModel,
  };
}
