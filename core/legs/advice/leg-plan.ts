/** How a leg is meant to be walked, as the simulated walkers take it, and what else they could use. */
import type { LegFigures } from "../figures.ts";
import type { LegSettings } from "../leg-settings.ts";
import type { AttackPointPlan, LegPlan, OddsSettings } from "../odds/odds-of.ts";
import { USUAL_SPREAD } from "../odds/spread.ts";
import type { OfferedAids } from "../odds/worth-of-aids.ts";
import { SHOWN_HANDRAILS } from "../aids/handrails.ts";
import type { AdviceSettings } from "./advice-settings.ts";

/** Handrails that are shown are followed; the bearing is turned aside where the walk says so. */
export function planOf(leg: LegFigures, { steering }: Pick<AdviceSettings, "steering">): LegPlan {
  return {
    steering,
    handrails: leg.handrails.slice(0, SHOWN_HANDRAILS),
    backstop: leg.backstop,
    aimOff: leg.aimsOff ? leg.aimOff : null,
    attackPoint: null,
  };
}

/** @param via places that may be gone by: attack points first, then places on the way */
export const offeredOn = (leg: LegFigures, via: readonly AttackPointPlan[]): OfferedAids => ({
  handrails: leg.handrails.slice(0, SHOWN_HANDRAILS),
  aimOff: leg.aimOff,
  attackPoints: via,
});

export const oddsSettingsOf = (
  advice: AdviceSettings,
  { hopM, backstopReachM, handrailOffsetM }: Pick<LegSettings, "hopM" | "backstopReachM" | "handrailOffsetM">,
): OddsSettings => ({
  marks: { settingDeg: advice.settingDeg, hopDeg: advice.hopDeg, hopM },
  unaided: {
    settingDeg: advice.unaidedSettingDeg,
    hopDeg: advice.unaidedHopDeg,
    hopM: advice.unaidedHopM,
  },
  paceError: advice.paceError,
  sightM: advice.sightM,
  walkOnM: backstopReachM,
  railReachM: Math.max(handrailOffsetM, USUAL_SPREAD.railReachM),
});
