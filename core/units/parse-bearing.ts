/** A bearing as typed: degrees, mils, or from north or south towards east or west. */
import { Fault } from "../fault.ts";
import { normalise360 } from "./angle.ts";
import { MILS_PER_CIRCLE, milsToDegrees } from "./mils.ts";
import { fromQuadrant } from "./quadrant.ts";

const AXES: Readonly<Record<string, number>> = { N: 0, E: 90, S: 180, W: 270 };

/**
 * Degrees from 0 up to 360. Reads "51", "051°", "51.5 deg", "51° 30′", "910 mils", "N 40° W", "S40E", "NW" is refused
 * (it names no degree). 360° and 6400 mils are read as 0.
 * @throws Fault "bad-argument" with the reason
 */
export function parseBearing(text: string): number {
  const typed = text
    .replace(/[′’´ʹ]/g, "'")
    .replace(/[º˚]/g, "°")
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/\s+/g, " ")
    .trim()
    .toUpperCase()
    .replace(/\b(NORTH|SOUTH|EAST|WEST)\b/g, (word) => word.charAt(0));
  const axis = AXES[typed];
  if (axis !== undefined) return axis;
  const form =
    /^([NS])? ?(-?\d+(?:\.\d+)?)(?![\d.]) ?(°|DEG(?:REES?)?|MILS?)? ?(?:(\d+(?:\.\d+)?) ?')? ?([EW])?$/.exec(
      typed,
    );
  if (!form)
    throw new Fault(
      "bad-argument",
      `“${text}” is not a bearing.`,
      null,
      "Write degrees such as 51, mils such as 910 mils, or N 40 W.",
    );
  const [, from, figure = "", unit, minutes, towards] = form;
  const value = Number(figure);
  if (unit?.startsWith("MIL")) {
    if (from || towards || minutes || value < 0 || value > MILS_PER_CIRCLE)
      throw new Fault(
        "bad-argument",
        `“${text}” is no bearing in mils: they run from 0 to ${MILS_PER_CIRCLE}.`,
      );
    return normalise360(milsToDegrees(value));
  }
  if (minutes !== undefined && (Number(minutes) >= 60 || figure.includes(".")))
    throw new Fault(
      "bad-argument",
      `“${text}” has minutes that cannot be: they run from 0 to 59 after whole degrees.`,
    );
  const degrees = value + (minutes === undefined ? 0 : Number(minutes) / 60);
  if (Boolean(from) !== Boolean(towards))
    throw new Fault(
      "bad-argument",
      `“${text}” names one side only.`,
      null,
      "A quadrant bearing has N or S before and E or W after.",
    );
  const limit = from ? 90 : 360;
  if (degrees < 0 || degrees > limit)
    throw new Fault("bad-argument", `A bearing of ${degrees}° does not exist: it runs from 0° to ${limit}°.`);
  return from
    ? fromQuadrant({ from: from as "N" | "S", degrees, towards: towards as "E" | "W" })
    : normalise360(degrees);
}
