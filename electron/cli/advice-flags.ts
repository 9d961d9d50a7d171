/** Flags of the commands that send simulated walkers along the legs. */
import { Fault } from "../../core/fault.ts";
import { type AdviceSettings, DEFAULT_ADVICE_SETTINGS } from "../../core/legs/advice/advice-settings.ts";

export interface AdviceFlags {
  /** Odds, what would help, a way along lines, ways out: about a second a leg. */
  readonly advice?: true;
  readonly walkers?: string;
  readonly seed?: string;
  readonly unaided?: true;
  readonly sight?: string;
}

/**
 * The settings of the advice; null when it is not asked for.
 * @throws Fault "bad-argument" for a number that is none, or one that belongs to advice which was not asked for
 */
export function adviceOf({ advice, walkers, seed, unaided, sight }: AdviceFlags): AdviceSettings | null {
  const given = { walkers, seed, unaided, sight };
  if (!advice) {
    const stray = Object.entries(given).find(([, value]) => value !== undefined);
    if (stray)
      throw new Fault("bad-argument", "This belongs to the advice.", `--${stray[0]}`, "Add --advice.");
    return null;
  }
  return {
    ...DEFAULT_ADVICE_SETTINGS,
    ...(walkers !== undefined && { walkers: numberOf("--walkers", walkers) }),
    ...(seed !== undefined && { seed: numberOf("--seed", seed) }),
    ...(sight !== undefined && { sightM: numberOf("--sight", sight) }),
    ...(unaided && { steering: "unaided" as const }),
  };
}

function numberOf(flag: string, text: string): number {
  const value = text.trim() === "" ? Number.NaN : Number(text);
  if (!Number.isFinite(value))
    throw new Fault("bad-argument", `“${text}” is not a number.`, flag, "Write it in digits.");
  return value;
}
