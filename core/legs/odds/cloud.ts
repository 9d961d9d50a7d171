/** Where simulated walkers end, thinned for the map. */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LonLat } from "../../units/position.ts";
import type { OddsRun } from "./simulate.ts";
import { FOUND, STOPPED } from "./walkers.ts";

export type Outcome = "found" | "stopped" | "missed";

export interface CloudPoint {
  readonly lonLat: LonLat;
  readonly outcome: Outcome;
}

/** More dots than these only run together. */
export const MOST_DOTS = 400;

/** Walkers at equal steps through the run: luck does not depend on a walker's number, so they are a fair sample. */
export function cloud(
  frame: LegFrame,
  { ends, outcome }: Pick<OddsRun, "ends" | "outcome">,
  most = MOST_DOTS,
): CloudPoint[] {
  const count = Math.min(most, outcome.length);
  return Array.from({ length: count }, (_, k) => {
    const i = Math.floor((k * outcome.length) / count);
    const end = outcome[i];
    return {
      lonLat: frame.toLonLat(ends[2 * i] as number, ends[2 * i + 1] as number),
      outcome: end === FOUND ? "found" : end === STOPPED ? "stopped" : "missed",
    };
  });
}
