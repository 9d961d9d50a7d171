/** A course as the command line tells it: rows for people, figures for programs. */
import type { Course } from "../../core/course/course.ts";
import { formatBearing, formatHeight, formatLength, formatShare } from "../../core/units/format.ts";
import { row } from "./rows.ts";

const pointName = (n: number): string => (n === 0 ? "Start" : String(n));

export function summary({ legs, distanceM, climbM, difficulty: { effortM, missedShare } }: Course): string {
  return [
    `${legs.length} legs`,
    formatLength(distanceM),
    climbM === null ? "climb not known" : `${formatHeight(climbM)} of climb`,
    `tires like ${formatLength(effortM)} on the flat`,
    ...(missedShare === null ? [] : [`${formatShare(missedShare)} miss a point`]),
  ].join(", ");
}

export function legRow({ points, legs }: Course, n: number): string {
  const { from, to, figures, odds } = legs[n] as Course["legs"][number];
  return row(
    `  ${pointName(from)} → ${pointName(to)}`,
    [
      `${formatBearing(figures.bearingMagneticDeg)} magnetic`,
      formatLength(figures.distanceM),
      ...(points[to]?.words ? [points[to].words] : []),
      ...(odds ? [`${formatShare(odds.find)} find it`] : []),
    ].join(", "),
  );
}

/** For programs: plain figures, metres and degrees. */
export const toldOf = ({ wish, points, legs, distanceM, climbM, descentM, difficulty }: Course) => ({
  wish,
  points,
  legs: legs.map(({ from, to, figures, odds }) => ({
    from,
    to,
    bearingTrueDeg: figures.bearingTrueDeg,
    bearingMagneticDeg: figures.bearingMagneticDeg,
    distanceM: figures.distanceM,
    climbM: figures.climbM,
    backstop: figures.backstop && {
      kind: figures.backstop.kind,
      name: figures.backstop.name,
      beyondM: figures.backstop.beyondM,
    },
    odds,
  })),
  distanceM,
  climbM,
  descentM,
  difficulty,
});
