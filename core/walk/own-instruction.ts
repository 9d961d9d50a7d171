/** What a person wrote for a leg in place of the program's own instruction, and how the leg lay when they did. */
import { inverse } from "../geodesy/geodesic.ts";
import type { LegFigures } from "../legs/figures.ts";
import type { Instruction } from "../legs/instruction.ts";
import type { LonLat } from "../units/position.ts";

export interface OwnInstruction {
  readonly text: string;
  readonly writtenFor: LegAsItLay;
}

/** The leg a text was written for. */
export interface LegAsItLay {
  readonly from: LonLat;
  readonly to: LonLat;
  /** Null where there was no declination. */
  readonly bearingMagneticDeg: number | null;
}

/** The person's own lines for the legs of a walk with their figures; null where the program's stands. */
export const ownInstructionsOf = (
  points: readonly { readonly instruction: OwnInstruction | null }[],
  legs: readonly Pick<LegFigures, "n" | "fromLonLat" | "toLonLat" | "bearingMagneticDeg">[],
): readonly (Omit<Instruction, "from"> | null)[] =>
  legs.map(({ n, fromLonLat: from, toLonLat: to, bearingMagneticDeg }) => {
    const own = points[n - 1]?.instruction;
    return own ? { text: own.text, mayBeStale: mayBeStale(own, { from, to, bearingMagneticDeg }) } : null;
  });

/** A point moved by less has not moved. */
const MOVED_M = 1;
/** Half the finest graduation of a hand compass. */
const TURNED_DEG = 0.5;

/** Positions to a centimetre and a tenth of a degree: what a file keeps, so that it comes back as it was. */
export const asItLay = ({ from, to, bearingMagneticDeg }: LegAsItLay): LegAsItLay => ({
  from: [round(from[0], 7), round(from[1], 7)],
  to: [round(to[0], 7), round(to[1], 7)],
  bearingMagneticDeg: bearingMagneticDeg === null ? null : round(bearingMagneticDeg, 1),
});

// Adding naught turns −0, which JSON does not keep, into 0.
const round = (value: number, decimals: number): number => Number(value.toFixed(decimals)) + 0;

/**
 * Whether the leg is no longer the one the text was written for: an end lies elsewhere, or its magnetic bearing has
 * turned with the declination.
 */
export function mayBeStale({ writtenFor }: OwnInstruction, leg: LegAsItLay): boolean {
  const moved = (a: LonLat, b: LonLat): boolean => inverse(a, b).distanceM > MOVED_M;
  if (moved(writtenFor.from, leg.from) || moved(writtenFor.to, leg.to)) return true;
  const [then, now] = [writtenFor.bearingMagneticDeg, leg.bearingMagneticDeg];
  return then !== null && now !== null && Math.abs(((now - then + 540) % 360) - 180) > TURNED_DEG;
}
