/**
 * Quadrant bearings: an angle from north or south towards east or west, 0 to 90°, as surveyors write them.
 * "N 40° W" is 320°.
 */
import { normalise360 } from "./angle.ts";
import { ABSENT, type Figure, formatUpTo } from "./format.ts";

export interface QuadrantBearing {
  readonly from: "N" | "S";
  /** 0 to 90. */
  readonly degrees: number;
  readonly towards: "E" | "W";
}

/** Any bearing in degrees as a quadrant bearing; due east is N 90° E, due west N 90° W. */
export function toQuadrant(degrees: number): QuadrantBearing {
  const bearing = normalise360(degrees);
  if (bearing <= 90) return { from: "N", degrees: bearing, towards: "E" };
  if (bearing < 180) return { from: "S", degrees: 180 - bearing, towards: "E" };
  if (bearing < 270) return { from: "S", degrees: bearing - 180, towards: bearing === 180 ? "E" : "W" };
  return { from: "N", degrees: 360 - bearing, towards: "W" };
}

export function fromQuadrant({ from, degrees, towards }: QuadrantBearing): number {
  const east = from === "N" ? degrees : 180 - degrees;
  return normalise360(towards === "E" ? east : -east);
}

/** A quadrant bearing rounded to whole degrees or the compass's marks: "N 40° W", and on an axis "N", "E", "S", "W". */
export function formatQuadrant(degrees: Figure, graduationDeg = 1): string {
  if (degrees === null || degrees === undefined || !Number.isFinite(degrees)) return ABSENT;
  const rounded = normalise360(Math.round(normalise360(degrees) / graduationDeg) * graduationDeg);
  const axis = ["N", "E", "S", "W"][rounded / 90];
  if (axis !== undefined) return axis;
  const { from, degrees: angle, towards } = toQuadrant(rounded);
  return `${from}\u00a0${formatUpTo(angle, 2)}°\u00a0${towards}`;
}
