/**
 * The 6400-part circle of many compasses. Not milliradians, of which the circle has 6283.19.
 * Source: US Army FM 21-26 (1993), para 6-1b.
 */
import { ABSENT, type Figure } from "./format.ts";

export const MILS_PER_CIRCLE = 6400;

export const degreesToMils = (degrees: number): number => (degrees * MILS_PER_CIRCLE) / 360;
export const milsToDegrees = (mils: number): number => (mils * 360) / MILS_PER_CIRCLE;

/**
 * A bearing in mils, rounded to the compass's marks: "910 mils". Never shows 6400.
 * @param degrees bearing on any north, degrees
 * @param graduationMils mark spacing; compasses have 20, 25, 50 or 100, protractors 10
 */
export function formatMils(degrees: Figure, graduationMils = 10): string {
  if (degrees === null || degrees === undefined || !Number.isFinite(degrees)) return ABSENT;
  const turn = ((degrees % 360) + 360) % 360;
  const mils = Math.round(degreesToMils(turn) / graduationMils) * graduationMils;
  // A spacing that does not divide the circle may round up to it or past it.
  return `${mils >= MILS_PER_CIRCLE ? 0 : Math.round(mils)}\u00a0mils`;
}
