/** How well one bearing serves for the whole leg: meridians draw together, so the straight leg bends against them. */
import { Fault } from "../../fault.ts";
import { legFrame } from "../../geodesy/leg-frame.ts";
import { rhumbDirect, rhumbInverse, rhumbOffsetM } from "../../geodesy/rhumb.ts";
import { normalise180, type TrueBearing } from "../../units/angle.ts";
import { formatNumber, type LengthUnit } from "../../units/format.ts";
import type { LonLat } from "../../units/position.ts";
import { lengthInNote } from "../leg-words.ts";

/** Strays of less are lost among those of the compass. */
const MENTIONED_M = 1;

export interface OneBearing {
  /** Furthest that the line of one true bearing to the target lies from the straight leg, metres, right positive. */
  readonly rhumbOffsetM: number | null;
  readonly notes: readonly string[];
}

/**
 * @param bearing true bearing at the start, the one that is dialled; null for a leg without length
 * @throws Fault "bad-argument" for a position that is none
 */
export function oneBearing(
  from: LonLat,
  to: LonLat,
  bearing: TrueBearing | null,
  unit: LengthUnit,
): OneBearing {
  if (bearing === null) return { rhumbOffsetM: 0, notes: [] };
  try {
    const offsetM = rhumbOffsetM(from, to);
    return {
      rhumbOffsetM: offsetM,
      notes: Math.abs(offsetM) > MENTIONED_M ? [strayNote(from, to, bearing, offsetM, unit)] : [],
    };
  } catch (thrown) {
    // A line of one bearing that winds into a pole says nothing of this leg.
    if (thrown instanceof Fault && thrown.code === "out-of-range") return { rhumbOffsetM: null, notes: [] };
    throw thrown;
  }
}

function strayNote(
  from: LonLat,
  to: LonLat,
  bearing: TrueBearing,
  offsetM: number,
  unit: LengthUnit,
): string {
  const rhumb = rhumbInverse(from, to);
  const [, missM] = legFrame(from, to).toFrame(rhumbDirect(from, bearing, rhumb.distanceM));
  const side = (m: number): string => `${lengthInNote(Math.abs(m), unit)} ${m < 0 ? "left" : "right"}`;
  const turn = normalise180(rhumb.bearing - bearing);
  return `Kept all the way, the bearing at the start ends ${side(missM)} of the target; the line of one bearing lies ${formatNumber(Math.abs(turn), 2)}° ${turn < 0 ? "less" : "more"} and runs up to ${side(offsetM)} of the straight leg.`;
}
