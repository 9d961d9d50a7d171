/** How far heights from contours alone may be off. */
import type { Knot } from "./monotone-curve.ts";

/** A height, and how far the true one may be from it, metres. */
export interface Estimate {
  readonly heightM: number;
  readonly errorM: number;
}

/** A height on the way, NaN where left open. */
export interface Reading extends Knot, Estimate {}

/**
 * How far a height between two contours may be off, at a share of the way from one to the other: nothing at either, half
 * their difference in the middle, and rising more steeply than straight from both: beside a contour the ground may lie
 * level, dip first, or rise several times as fast as on the mean. Nine heights in ten are meant to be as near as said.
 * No source; tests/core/terrain/contour-error.test.ts holds it to real models.
 */
export const betweenContours = (differenceM: number, share: number): number =>
  (differenceM / 2) * (4 * share * (1 - share)) ** 0.75;

/**
 * How far heights at rising distances may be off: between two contours nothing at either and half their difference in the
 * middle; elsewhere growing or shrinking evenly from knot to knot.
 */
export function errorsAt(knots: readonly Reading[], at: readonly number[]): number[] {
  let i = 0;
  return at.map((d) => {
    while (i < knots.length - 2 && (knots[i + 1] as Reading).atM < d) i++;
    const before = knots[i] as Reading;
    const after = knots[i + 1] ?? before;
    const share =
      after.atM > before.atM ? Math.min(1, Math.max(0, (d - before.atM) / (after.atM - before.atM))) : 0;
    const crossed = before.errorM === 0 && after.errorM === 0;
    return crossed
      ? betweenContours(Math.abs(after.heightM - before.heightM), share)
      : before.errorM + (after.errorM - before.errorM) * share;
  });
}
