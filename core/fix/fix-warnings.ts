/** Which warnings a fix carries. */
import type { LengthUnit } from "../units/format.ts";
import { CHI_SQUARE_95 } from "./ellipse.ts";
import type { Fix, FixWarning } from "./fix.ts";
import { INCONSISTENT, isElongated, isNear, isRough, NARROW_DEG, widestCrossingDeg } from "./judge.ts";
import type { NorthsThere } from "./sighting.ts";
import * as words from "./words.ts";

/** Half an ellipse's short axis, metres, below which it is no figure of a hand compass. No source. */
const FLAT_M = 0.1;

/**
 * What a person must know of a fix.
 * @param causes of a disagreement: the bearing that agrees with the others when turned round, and the turn by which all do,
 *   degrees; null for none
 * @param unit of the lengths told
 */
export function warningsOf(
  fix: Omit<Fix, "warnings">,
  causes: { readonly reversed: number | null; readonly turnedDeg: number | null },
  there: readonly NorthsThere[],
  unit: LengthUnit,
): FixWarning[] {
  const { at, bearings, corners, covariance, ellipse95, suspect, suspects } = fix;
  const found: FixWarning[] = [];
  const say = (code: FixWarning["code"], text: string): void => void found.push({ code, words: text });
  const crossing = widestCrossingDeg(corners);
  if (crossing < NARROW_DEG) say("narrow", words.narrowWords(crossing));
  // Flat to nothing it is when the fit fell upon a known point: that is told below, and its ratio says nothing.
  if (isElongated(ellipse95) && ellipse95.semiMinorM >= FLAT_M)
    say("elongated", words.elongatedWords(ellipse95, unit));
  if (
    isRough(
      ellipse95,
      bearings.map(({ distanceM }) => distanceM),
    )
  )
    say("rough", words.roughWords(ellipse95, unit));
  const near = bearings.find(({ known }) => isNear(known, at, covariance, CHI_SQUARE_95));
  // Where no two cross well the whole ellipse is of no use, and has been told.
  if (near && crossing >= NARROW_DEG)
    say("near-known", words.nearKnownWords(near.name, near.distanceM, unit));
  const behind = bearings.filter(({ residualDeg }) => Math.abs(residualDeg) > 90);
  if (behind.length > 0) say("beyond", words.beyondWords(behind.map(({ name }) => name)));
  if (fix.degreesOfFreedom === 0) say("two-only", words.twoOnlyWords());
  if (fix.chance < INCONSISTENT)
    say("inconsistent", words.inconsistentWords(fix.chance, bearings.length > 3));
  const wrong = suspect === null ? undefined : bearings[suspect];
  if (wrong)
    say(
      "suspect",
      words.suspectWords(
        wrong.name,
        wrong.without?.offDeg ?? wrong.residualDeg,
        wrong.without?.movedM ?? null,
        unit,
      ),
    );
  else if (suspects.length > 1)
    say(
      "suspect",
      words.eitherWords(
        suspects.flatMap((i) => {
          const one = bearings[i];
          return one?.without ? [{ name: one.name, movedM: one.without.movedM }] : [];
        }),
        unit,
      ),
    );
  const round = causes.reversed === null ? undefined : bearings[causes.reversed];
  if (round) say("reversed", words.reversedWords(round.name));
  else if (causes.turnedDeg !== null) say("turned", words.turnedWords(causes.turnedDeg, bearings.length > 3));
  for (const note of new Set(there.flatMap(({ notes }) => notes))) say("declination", note);
  return found;
}
