/** One walker's luck in steering, filled anew for each: numbers in arrays, so that nothing is allocated for a walker. */
import { normalDeviate } from "./deviates.ts";
import { cosine, sine } from "./exact-math.ts";
import type { Stage } from "./stage.ts";

export interface SteeringLuck {
  /** Standard normal deviates: the setting's at 0, one for each piece of the course after it, then 0. */
  readonly deviates: Float64Array;
  /** Direction of each piece against its course: cosine and sine, in the same places. */
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly pieces: number;
  readonly pieceRad: number;
  readonly settingWeight: number;
  readonly pieceWeight: number;
}

/** One more, straight on the setting, for those whose count starts again and who walk further than the course. */
const SPARE = 1;

export function steeringLuck({ pieces, pieceRad, settingRad }: Stage): SteeringLuck {
  const setting = settingRad * pieces;
  const whole = Math.sqrt(setting * setting + pieces * pieceRad * pieceRad);
  const size = pieces + 1 + SPARE;
  return {
    deviates: new Float64Array(size),
    cos: new Float64Array(size),
    sin: new Float64Array(size),
    pieces,
    pieceRad,
    settingWeight: whole > 0 ? setting / whole : 0,
    pieceWeight: whole > 0 ? pieceRad / whole : 0,
  };
}

/**
 * Draws a walker's deviates. Added up with their weights they decide where the course ends to the side; that sum is given,
 * spread evenly over all walkers, and the deviates are moved along their weights to meet it. They stay standard normal
 * and independent, for a normal deviate's part along one direction tells nothing of its parts across.
 * @param aside the sum to meet, a standard normal deviate
 */
export function drawSteering(luck: SteeringLuck, base: number, aside: number): void {
  const { deviates, pieces, settingWeight, pieceWeight } = luck;
  let sum = 0;
  for (let k = 0; k <= pieces; k++) {
    const z = normalDeviate(base, k);
    deviates[k] = z;
    sum += z * (k === 0 ? settingWeight : pieceWeight);
  }
  const lack = aside - sum;
  for (let k = 0; k <= pieces; k++)
    deviates[k] = (deviates[k] as number) + lack * (k === 0 ? settingWeight : pieceWeight);
}

/** Directions of the pieces from number `from` on, with a setting error in radians; a half turn is the most. */
export function turnPieces(
  { deviates, cos, sin, pieceRad }: SteeringLuck,
  from: number,
  settingRad: number,
): void {
  for (let k = from; k < deviates.length; k++) {
    const heading = settingRad + pieceRad * (deviates[k] as number);
    const bounded = heading > Math.PI ? Math.PI : heading < -Math.PI ? -Math.PI : heading;
    cos[k] = cosine(bounded);
    sin[k] = sine(bounded);
  }
}
