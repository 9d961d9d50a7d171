/** Shares as walkers of a hundred: whole ones that add up. Pure. */
import type { Odds } from "../../core/legs/odds/simulate.ts";

export interface Of100 {
  readonly find: number;
  readonly stopped: number;
  readonly missed: number;
}

/** Rounded as the leg table rounds: the stopped take what is left. */
export function of100({ find, missed }: Pick<Odds, "find" | "missed">): Of100 {
  const found = Math.round(find * 100);
  const lost = Math.min(100 - found, Math.round(missed * 100));
  return { find: found, stopped: 100 - found - lost, missed: lost };
}
