/** The scale at which a walk fits on one page. */
import { Fault } from "../../fault.ts";
import { formatScale } from "../../units/scale.ts";

/** Scales that rulers and compasses carry, and the round ones beyond them. */
export const FIT_SCALES = [
  2500, 5000, 7500, 10_000, 12_000, 15_000, 20_000, 24_000, 25_000, 40_000, 50_000, 62_500, 63_360, 100_000,
  125_000, 200_000, 250_000, 500_000, 1_000_000, 2_500_000, 5_000_000, 10_000_000,
] as const;

export interface FoundScale {
  readonly scale: number;
  /** Which it is, in a sentence. */
  readonly note: string;
}

/**
 * @param needed denominator at which the walk just fits
 * @param exact to the next of three figures instead of a usual scale
 * @throws Fault "out-of-range" where no scale is small enough
 */
export function fitScale(needed: number, exact: boolean): FoundScale {
  if (exact && needed > 100 && needed <= 9_990_000) {
    const unit = 10 ** (Math.floor(Math.log10(needed)) - 2);
    const scale = Math.round(Math.ceil(needed / unit) * unit);
    return {
      scale,
      note: `The walk just fits at ${formatScale(scale)}: no ruler or compass carries this scale, so measure by the bars.`,
    };
  }
  const scale = FIT_SCALES.find((s) => s >= needed);
  if (scale === undefined)
    throw new Fault("out-of-range", "The walk is too long for one page.", null, "Take several sheets.");
  return {
    scale,
    note: `${formatScale(scale)} is the largest usual scale at which the walk fits on one page.`,
  };
}
