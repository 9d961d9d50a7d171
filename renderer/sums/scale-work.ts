/** Sums with a map's scale: what it means, the ruler and the ground, a compass ruled for another map, an unknown map. */
import { parseLength } from "../../core/units/length.ts";
import {
  feetPerInch,
  formatScale,
  groundLength,
  inchesPerMile,
  millimetresPerKm,
  paperLength,
  parseScale,
  scaleFromLengths,
} from "../../core/units/scale.ts";
import { sumsWords } from "../words/sums-words.ts";
import { figure, imperial, lengthIn, metric, onRuler } from "./sum-figures.ts";
import { filled, work, type Worked } from "./worked.ts";

const { how } = sumsWords.scale;
const nearScale = (scale: number): string => formatScale(Number(scale.toPrecision(5)));

export interface ScaleMeaning {
  readonly scale: number;
  readonly written: string;
  readonly mmPerKm: string;
  readonly feetPerInch: string;
  readonly inchesPerMile: string;
}

export const scaleMeaning = (text: string): Worked<ScaleMeaning> =>
  work(() => {
    const scale = parseScale(filled(text));
    return {
      value: {
        scale,
        written: nearScale(scale),
        mmPerKm: figure(millimetresPerKm(scale)),
        feetPerInch: figure(feetPerInch(scale)),
        inchesPerMile: figure(inchesPerMile(scale)),
      },
      how: [
        how.fraction(nearScale(scale)),
        how.perKm(figure(millimetresPerKm(scale)), figure(scale)),
        how.perInch(figure(feetPerInch(scale)), figure(scale)),
      ],
    };
  });

export interface BothUnits {
  readonly metres: number;
  readonly metric: string;
  readonly imperial: string;
}

const ground = (metres: number): BothUnits => ({
  metres,
  metric: metric(metres),
  imperial: imperial(metres),
});
const ruler = (metres: number): BothUnits => ({
  metres,
  metric: onRuler(metres, "mm"),
  imperial: onRuler(metres, "in"),
});

/** A bare figure on the ruler is in millimetres, one on the ground in metres. */
export const groundOf = (rulerText: string, scaleText: string): Worked<BothUnits> =>
  work(() => {
    const paperM = parseLength(filled(rulerText), "mm");
    const scale = parseScale(filled(scaleText));
    const metres = groundLength(paperM, scale);
    return {
      value: ground(metres),
      how: [how.toGround(lengthIn(paperM, "mm"), figure(scale), metric(metres))],
    };
  });

export const rulerOf = (groundText: string, scaleText: string): Worked<BothUnits> =>
  work(() => {
    const groundM = parseLength(filled(groundText), "m");
    const scale = parseScale(filled(scaleText));
    const metres = paperLength(groundM, scale);
    return {
      value: ruler(metres),
      how: [how.toRuler(metric(groundM), figure(scale), lengthIn(metres, "mm"))],
    };
  });

/** What a scale on the compass's edge reads on a map of another scale, and what is really there. */
export const trueOfReading = (
  readingText: string,
  compassText: string,
  scaleText: string,
): Worked<BothUnits & { readonly factor: string }> =>
  work(() => {
    const reading = parseLength(filled(readingText), "m");
    const compass = parseScale(filled(compassText));
    const scale = parseScale(filled(scaleText));
    const metres = (reading * scale) / compass;
    const factor = figure(scale / compass);
    return {
      value: { ...ground(metres), factor },
      how: [
        how.compass(nearScale(compass), nearScale(scale), factor),
        how.times(metric(reading), factor, metric(metres)),
      ],
    };
  });

/** The scale of a map on which a known distance was measured. */
export const unknownScale = (
  groundText: string,
  rulerText: string,
): Worked<{ readonly scale: number; readonly written: string }> =>
  work(() => {
    const groundM = parseLength(filled(groundText), "m");
    const paperM = parseLength(filled(rulerText), "mm");
    const scale = scaleFromLengths(paperM, groundM);
    // Half a millimetre is as well as one reads a ruler.
    const slack = (scale * 0.0005) / paperM;
    const step = 10 ** Math.max(0, Math.min(Math.floor(Math.log10(slack)), Math.floor(Math.log10(scale))));
    return {
      value: { scale, written: formatScale(Math.round(scale / step) * step) },
      how: [
        how.unknown(metric(groundM), lengthIn(paperM, "mm"), figure(scale)),
        how.rulerError(figure(Number(slack.toPrecision(1)))),
      ],
    };
  });
