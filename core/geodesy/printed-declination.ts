/**
 * The declination printed in a map's margin, brought to the day of the walk.
 * Source: US Army TC 3-25.26 (2013), chapter 6: declination diagrams state the value of a year and its annual
 * change, or a grid–magnetic angle; one older than 20 years is to be distrusted.
 */
import { Fault } from "../fault.ts";
import { normalise180 } from "../units/angle.ts";
import { decimalYear } from "./decimal-year.ts";

export interface PrintedNorth {
  /** Declination, or grid–magnetic angle (magnetic minus grid north), degrees, east positive. */
  readonly valueDeg: number;
  readonly of: "declination" | "gridMagnetic";
  /** The year the value is for, such as 2012 or 2012.5. */
  readonly year: number;
  /** Degrees a year, eastward positive; 0 where the map prints none. */
  readonly annualChangeDeg: number;
}

export interface PrintedDeclination {
  /** Magnetic minus true north on the day, degrees, east positive. */
  readonly deg: number;
  readonly annualChangeDeg: number;
  /** Years from the printed value to the day; negative when the map is of a later year. */
  readonly ageYears: number;
  /** Older than 20 years: the annual change itself has changed since. */
  readonly old: boolean;
}

/** Years after which a manual distrusts a declination diagram. */
export const DIAGRAM_YEARS = 20;

/**
 * @param date YYYY-MM-DD
 * @param convergenceDeg grid minus true north at the place, needed for a grid–magnetic angle
 * @throws Fault "bad-argument" for a figure that cannot be, or a grid–magnetic angle without convergence
 */
export function printedDeclinationOn(
  printed: PrintedNorth,
  date: string,
  convergenceDeg: number | null = null,
): PrintedDeclination {
  const { valueDeg, of, year, annualChangeDeg } = printed;
  if (!(Math.abs(valueDeg) <= 180))
    throw new Fault(
      "bad-argument",
      `A printed angle of ${valueDeg}° cannot be: it lies within 180° east or west.`,
    );
  if (!(year >= 1700 && year < 2200))
    throw new Fault(
      "bad-argument",
      `${year} is not the year of a printed declination.`,
      null,
      "Give the year in the map's margin.",
    );
  if (!(Math.abs(annualChangeDeg) <= 2))
    throw new Fault(
      "bad-argument",
      `An annual change of ${annualChangeDeg}° cannot be: it is a few minutes.`,
      null,
      "60 minutes are 1°.",
    );
  if (of === "gridMagnetic" && (convergenceDeg === null || !Number.isFinite(convergenceDeg)))
    throw new Fault(
      "bad-argument",
      "A grid–magnetic angle needs the grid's convergence to give the declination.",
    );
  const ageYears = decimalYear(date) - year;
  const toTrue = of === "gridMagnetic" ? (convergenceDeg as number) : 0;
  return {
    deg: normalise180(valueDeg + annualChangeDeg * ageYears + toTrue),
    annualChangeDeg,
    ageYears,
    old: ageYears > DIAGRAM_YEARS,
  };
}

/**
 * An angle to east or west as a map prints it, in degrees, east positive: "12°30' W",
 * "6' E", "12.5W", "-3.5", "0". Minutes alone are minutes.
 * @throws Fault "bad-argument" with the reason
 */
export function parseEastWest(text: string): number {
  const typed = text
    .replace(/[′’´ʹ]/g, "'")
    .replace(/[º˚]/g, "°")
    .replace(/[−–]/g, "-")
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/\s+/g, " ")
    .trim()
    .toUpperCase()
    .replace(/\b(EAST|WEST)(?:ERLY|WARDS?)?\b/g, (word) => word.charAt(0));
  const number = String.raw`(\d+(?:\.\d+)?)`;
  const form = new RegExp(
    `^([+-])? ?(?:${number}(?![\\d.]) ?(?:°|DEG)? ?(?!'))?(?:${number} ?')? ?([EW])?$`,
  ).exec(typed);
  const [, sign, degrees, minutes, side] = form ?? [];
  if (degrees === undefined && minutes === undefined)
    throw new Fault(
      "bad-argument",
      `“${text}” is not an angle to east or west.`,
      null,
      "Write it such as 12° 30′ W, 6′ E or −12.5.",
    );
  if (sign && side)
    throw new Fault(
      "bad-argument",
      `“${text}” has both a sign and a side.`,
      null,
      "East is plus, west is minus: write one of them.",
    );
  if (degrees !== undefined && minutes !== undefined && (Number(minutes) >= 60 || degrees.includes(".")))
    throw new Fault(
      "bad-argument",
      `“${text}” has minutes that cannot be: they run from 0 to 59 after whole degrees.`,
    );
  const size = Number(degrees ?? 0) + Number(minutes ?? 0) / 60;
  if (size !== 0 && !sign && !side && minutes !== undefined)
    throw new Fault("bad-argument", `“${text}” does not say east or west.`, null, "Add E or W.");
  return sign === "-" || side === "W" ? -size + 0 : size;
}
