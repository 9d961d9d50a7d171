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

/** Intervals that maps have: 1, 2, 2.5 or 5 and tens of them in metres; 5, 10, 20, 40 or 50, and tens of them, in feet. */
const ROUND: Readonly<Record<Interval["unit"], readonly number[]>> = {
  m: [1, 2, 2.5, 5, 10, 20, 25, 50, 100, 200, 250, 500],
  ft: [5, 10, 20, 40, 50, 100, 200, 400, 500, 1000],
};
/** An interval finer than this share of the model's cell would draw the model's errors. No source. */
const LEAST_CELLS = 0.1;

/**
 * An interval that suits the ground and the scale: n · log₁₀ n · tan α with n = √(scale / 100) + 1, for a slope α that
 * only the steepest ground exceeds. Source, from memory: E. Imhof, Cartographic Relief Presentation (1982), on the
 * choice of contour intervals.
 * @param steepTangent tangent of that slope
 * @param cellM spacing of the model's samples
 */
export function suitableInterval(
  steepTangent: number,
  cellM: number,
  unit: Interval["unit"] = "m",
  scale = 25_000,
): Interval {
  const n = Math.sqrt(scale / 100) + 1;
  const wantedM = Math.max(n * Math.log10(n) * Math.min(1, steepTangent), LEAST_CELLS * cellM);
  const wanted = wantedM / metresPer(unit);
  const off = (value: number): number => Math.abs(Math.log(value / wanted));
  return { value: ROUND[unit].reduce((a, b) => (off(b) < off(a) ? b : a)), unit };
}
