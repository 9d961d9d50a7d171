/** Sums with a slope: degrees, percent, rise over run, each from any other. */
import { Fault } from "../../core/fault.ts";
import { formatNumber } from "../../core/units/format.ts";
import { parseLength } from "../../core/units/length.ts";
import { parseNumber } from "../../core/units/parse-number.ts";
import { formatRatio, percentToDegrees, slopeDeg, slopePercent } from "../../core/units/slope.ts";
import { sumsWords } from "../words/sums-words.ts";
import { figure, metric } from "./sum-figures.ts";
import { filled, work, type Worked } from "./worked.ts";

const { how, faults } = sumsWords.slope;

export interface Slope {
  /** Unrounded, for what is worked out from it. */
  readonly degreesExact: number;
  readonly degrees: string;
  readonly percent: string;
  readonly ratio: string;
  /** Along the slope for 100 along the map. */
  readonly onSlope: string;
}

export type SlopeFrom = "degrees" | "percent" | "run" | "rise";

const tenths = (value: number): string => formatNumber(value, 1);

const slope = (degrees: number): Slope => ({
  degreesExact: degrees,
  degrees: tenths(degrees),
  percent: tenths(slopePercent(degrees)),
  ratio: formatRatio(degrees),
  onSlope: tenths(100 / Math.cos((degrees * Math.PI) / 180)),
});

/** A number with a sign and a unit that may be left out. @throws Fault "bad-argument" for anything else */
function number(text: string, unit: RegExp, what: string): number {
  const form = /^(.*\d)\s*(\D*)$/.exec(filled(text).trim());
  const value = form && unit.test(form[2]?.trim() ?? "") ? parseNumber(form[1] ?? "") : null;
  if (value === null) throw new Fault("bad-argument", faults.noNumber(text.trim()), null, what);
  return value;
}

export const slopeFromDegrees = (text: string): Worked<Slope> =>
  work(() => {
    const degrees = number(text, /^(?:°|deg(?:rees?)?)?$/i, faults.writeDegrees);
    if (Math.abs(degrees) >= 90)
      throw new Fault("bad-argument", faults.tooSteep(figure(degrees)), null, faults.below90);
    return { value: slope(degrees), how: [how.degrees(figure(degrees), tenths(slopePercent(degrees)))] };
  });

export const slopeFromPercent = (text: string): Worked<Slope> =>
  work(() => {
    const percent = number(text, /^(?:%|percent|per cent)?$/i, faults.writePercent);
    const degrees = percentToDegrees(percent);
    return { value: slope(degrees), how: [how.percent(figure(percent), tenths(degrees))] };
  });

/** "1 in 8": the run for a rise of 1. */
export const slopeFromRun = (text: string): Worked<Slope> =>
  work(() => {
    const run = number(filled(text).replace(/^\s*1\s*(?:in|:)\s*/i, ""), /^$/, faults.writeRun);
    if (run <= 0) throw new Fault("bad-argument", faults.noRun(figure(run)), null, faults.writeRun);
    const degrees = slopeDeg(1, run);
    return { value: slope(degrees), how: [how.run(figure(run), tenths(degrees))] };
  });

/** Height gained and distance on the map, each with its unit; bare figures are metres. */
export const slopeFromRise = (riseText: string, runText: string): Worked<Slope> =>
  work(() => {
    const rise = parseLength(
      filled(riseText)
        .trim()
        .replace(/^[-+−]/, ""),
      "m",
    );
    const falls = /^[-−]/.test(riseText.trim());
    const run = parseLength(filled(runText), "m");
    if (run === 0) throw new Fault("bad-argument", faults.noDistance, null, faults.writeDistance);
    const degrees = slopeDeg(falls ? -rise : rise, run);
    return {
      value: slope(degrees),
      how: [
        how.rise(
          `${falls ? "−" : ""}${metric(rise)}`,
          metric(run),
          tenths(slopePercent(degrees)),
          tenths(degrees),
        ),
      ],
    };
  });
