/** Walking time of a leg, there and back, by the chosen rule with the party's factors and rests. */
import type { Profile } from "../../terrain/profile.ts";
import { type Going, walkingTimeS, withFactors } from "../../travel/walking-time.ts";
import type { LegFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";

/**
 * Seconds; null when the rule needs heights that are missing.
 * @throws Fault "bad-argument" for a factor that cannot be
 */
export function timeFigures(
  going: Going,
  { timeMethod, timeFactors }: Pick<LegSettings, "timeMethod" | "timeFactors">,
): Pick<LegFigures, "timeS" | "timeBackS"> {
  const time = (way: Going): number | null => {
    const bare = walkingTimeS(timeMethod, way);
    return bare === null ? null : withFactors(bare, timeFactors);
  };
  return { timeS: time(going), timeBackS: time(turned(going)) };
}

const turned = ({ distanceM, climbM, descentM, profile }: Going): Going => ({
  distanceM,
  climbM: descentM,
  descentM: climbM,
  profile: turnedProfile(profile),
});

function turnedProfile({
  distanceM,
  elevationM,
}: Going["profile"]): Pick<Profile, "distanceM" | "elevationM"> {
  const lengthM = distanceM.at(-1) ?? 0;
  return {
    distanceM: distanceM.map((d) => lengthM - d).toReversed(),
    elevationM: elevationM.toReversed(),
  };
}
