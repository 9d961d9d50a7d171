/** The contour interval: as people write it, and whether it suits a model. */
import { Fault } from "../fault.ts";

export interface Interval {
  readonly value: number;
  readonly unit: "m" | "ft";
}

/** The international foot. Source: NIST Special Publication 811 (2008), appendix B.6. */
export const METRES_PER_FOOT = 0.3048;

/** More levels than any sheet can show; a slip of the unit or the decimal point. */
const MOST_LEVELS = 5000;

export const metresPer = (unit: Interval["unit"]): number => (unit === "ft" ? METRES_PER_FOOT : 1);

/**
 * Reads "10m", "40 ft", "2.5 m"; a bare number is metres.
 * @throws Fault "bad-argument" for anything else
 */
export function parseInterval(text: string): Interval {
  const found = /^\s*(-?\d+(?:[.,]\d+)?)\s*(m|metres?|meters?|ft|feet|foot|')?\s*$/i.exec(text);
  if (!found)
    throw new Fault(
      "bad-argument",
      `“${text}” is no contour interval.`,
      "interval",
      "Write it as 10m or 40ft.",
    );
  const unit = /^(f|')/i.test(found[2] ?? "") ? "ft" : "m";
  return checkInterval({ value: Number((found[1] ?? "").replace(",", ".")), unit });
}

/** @throws Fault "bad-argument" when the interval is not a positive number */
export function checkInterval(interval: Interval): Interval {
  if (!Number.isFinite(interval.value) || interval.value <= 0)
    throw new Fault(
      "bad-argument",
      `A contour interval has to be above zero, not ${interval.value}.`,
      "interval",
      "Write it as 10m or 40ft.",
    );
  return interval;
}

/**
 * Refuses an interval that would draw an absurd number of contours.
 * @param reliefM highest minus lowest height, metres
 * @throws Fault "bad-argument" naming an interval that would do
 */
export function checkIntervalFor(interval: Interval, reliefM: number): void {
  const levels = reliefM / (interval.value * metresPer(interval.unit));
  if (levels <= MOST_LEVELS) return;
  const enough = Math.ceil(reliefM / metresPer(interval.unit) / MOST_LEVELS);
  throw new Fault(
    "bad-argument",
    `An interval of ${interval.value} ${interval.unit} over ${Math.round(reliefM)} m of relief makes ${Math.round(levels)} contours, one above the other.`,
    "interval",
    `Take ${enough} ${interval.unit} or more.`,
  );
}
