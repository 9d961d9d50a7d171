/** One entry to every rule of walking time, with what the walker adds to it. */
import { Fault } from "../fault.ts";
import type { Profile } from "../terrain/profile.ts";
import { din33466TimeS } from "./din33466.ts";
import { langmuirTimeS } from "./langmuir.ts";
import { naismithTimeS } from "./naismith.ts";
import { type Stretch, stretchesOf } from "./stretches.ts";
import { swissTimeS } from "./swiss.ts";
import { toblerTimeS } from "./tobler.ts";

export type TimeMethod =
  | "naismith"
  | "naismith1892"
  | "langmuir"
  | "tobler"
  | "toblerOffPath"
  | "din33466"
  | "swiss";

export interface TimeRule {
  readonly title: string;
  /** The rule in a sentence, for "how this was worked out". */
  readonly rule: string;
}

export const TIME_METHODS: Readonly<Record<TimeMethod, TimeRule>> = {
  naismith: { title: "Naismith", rule: "5 km an hour on the map and an hour more for 600 m of climb." },
  naismith1892: {
    title: "Naismith (1892)",
    rule: "3 miles an hour on the map and an hour more for 2000 ft of climb.",
  },
  langmuir: {
    title: "Naismith with Langmuir's corrections",
    rule: "Naismith's rule; going down at 5° to 12° takes off 10 min for 300 m, steeper than 12° adds 10 min for 300 m.",
  },
  tobler: { title: "Tobler", rule: "6·e^(−3.5·|slope + 0.05|) km an hour along the profile." },
  toblerOffPath: {
    title: "Tobler, off the path",
    rule: "Six tenths of 6·e^(−3.5·|slope + 0.05|) km an hour along the profile.",
  },
  din33466: {
    title: "DIN 33466",
    rule: "4 km, 300 m up and 500 m down an hour; the larger of the horizontal and the vertical time and half the smaller.",
  },
  swiss: {
    title: "Swiss signposts",
    rule: "A polynomial in the slope along the profile; 4.2 km an hour on the level.",
  },
};

export interface Going {
  readonly distanceM: number;
  /** Null when heights are missing. */
  readonly climbM: number | null;
  readonly descentM: number | null;
  readonly profile: Pick<Profile, "distanceM" | "elevationM">;
}

/**
 * Time in seconds by a rule, before factors and breaks; null when it needs heights that are missing.
 * @throws Fault "bad-argument" for a figure that is negative or not finite
 */
export function walkingTimeS(
  method: TimeMethod,
  { distanceM, climbM, descentM, profile }: Going,
): number | null {
  const along = (rule: (stretches: readonly Stretch[]) => number): number | null => {
    const stretches = stretchesOf(profile);
    return stretches && rule(stretches);
  };
  switch (method) {
    case "naismith":
      return climbM === null ? null : naismithTimeS(distanceM, climbM);
    case "naismith1892":
      return climbM === null ? null : naismithTimeS(distanceM, climbM, "1892");
    case "din33466":
      return climbM === null || descentM === null ? null : din33466TimeS(distanceM, climbM, descentM);
    case "langmuir":
      return along(langmuirTimeS);
    case "tobler":
      return along((stretches) => toblerTimeS(stretches));
    case "toblerOffPath":
      return along((stretches) => toblerTimeS(stretches, true));
    case "swiss":
      return along(swissTimeS);
  }
}

/** What the walker adds to a rule: each factor lengthens the time, 1 changes nothing. */
export interface TimeFactors {
  readonly party: number;
  readonly load: number;
  readonly surface: number;
  /** Minutes of rest after each hour of walking, a last part of an hour in proportion. */
  readonly breakMinPerHour: number;
}

export const NO_FACTORS: TimeFactors = { party: 1, load: 1, surface: 1, breakMinPerHour: 0 };

/**
 * Time with the walker's factors and rests.
 * @throws Fault "bad-argument" for a factor outside 0.2–5 or rests outside 0–60 minutes
 */
export function withFactors(timeS: number, { party, load, surface, breakMinPerHour }: TimeFactors): number {
  for (const [name, factor] of Object.entries({ party, load, surface }))
    if (!(factor >= 0.2 && factor <= 5))
      throw new Fault("bad-argument", `The factor for ${name} must lie between 0.2 and 5, not ${factor}.`);
  if (!(breakMinPerHour >= 0 && breakMinPerHour <= 60))
    throw new Fault("bad-argument", `Rests must be 0 to 60 minutes an hour, not ${breakMinPerHour}.`);
  return timeS * party * load * surface * (1 + breakMinPerHour / 60);
}
