/** From metres along the walk and metres of height to pixels of the ribbon. Pure. */
import { FOOT_M, isMetric, type LengthUnit } from "../../core/units/format.ts";

export interface RibbonBox {
  readonly left: number;
  readonly right: number;
  /** Where the highest ground may reach, and where the baseline is. */
  readonly top: number;
  readonly bottom: number;
}

export interface RibbonScale {
  x(alongM: number): number;
  y(heightM: number): number;
  /** Metres along the walk at a pixel, held within the walk. */
  along(x: number): number;
  /** Heights at which hairlines are drawn, metres, each a round figure in the unit it is read in. */
  readonly hairlines: readonly number[];
}

/** Flat ground must not look like mountains: the axis never shows less than this, metres. */
const LEAST_SPAN_M = 40;

export function ribbonScale(
  box: RibbonBox,
  lengthM: number,
  lowestM: number | null,
  highestM: number | null,
  unit: LengthUnit,
): RibbonScale {
  const low = lowestM ?? 0;
  const high = highestM ?? 0;
  const spare = Math.max(0, LEAST_SPAN_M - (high - low));
  const top = high + spare / 2;
  const span = Math.max(high - low, LEAST_SPAN_M) * 1.12;
  // A little ground under the lowest place, so that it is ground and not a hole.
  const base = top - span;
  const width = Math.max(1, box.right - box.left);
  const metres = Math.max(1e-9, lengthM);
  return {
    x: (alongM) => box.left + (alongM / metres) * width,
    y: (heightM) => box.bottom - ((heightM - base) / span) * (box.bottom - box.top),
    along: (x) => Math.min(lengthM, Math.max(0, ((x - box.left) / width) * metres)),
    hairlines: lowestM === null ? [] : roundHeights(base, top, unit),
  };
}

/** Two to four round heights within a span. */
export function roundHeights(lowM: number, highM: number, unit: LengthUnit): readonly number[] {
  const toM = isMetric(unit) ? 1 : FOOT_M;
  const [low, high] = [lowM / toM, highM / toM];
  const rough = (high - low) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10);
  const heights: number[] = [];
  for (let h = Math.ceil(low / step) * step; h <= high; h += step) heights.push(h * toM);
  return heights;
}
