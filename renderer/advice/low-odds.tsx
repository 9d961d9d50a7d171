/** The word that marks a leg on which too few find the target. */
import { settings } from "../app/settings.ts";
import { adviceWords } from "../words/advice-words.ts";
import { type AdviceShown, adviceOfLegs } from "./advice-state.ts";
import { of100 } from "./of-100.ts";

/** Only what is known of the leg as it stands is marked. */
export const isLow = (shown: AdviceShown | undefined): boolean =>
  shown !== undefined && shown.isCurrent && shown.advice?.flagged === true;

export const isLowLeg = (leg: number): boolean => isLow(adviceOfLegs.value[leg]);

export function LowOdds({ leg }: { readonly leg: number }) {
  const shown = adviceOfLegs.value[leg];
  const odds = shown?.advice?.odds;
  if (!isLow(shown) || !odds) return null;
  return (
    <span
      class="low-odds"
      title={adviceWords.lowTitle(of100(odds).find, Math.round(settings.value.aids.flagBelow * 100))}
      data-test="low-odds"
    >
      {adviceWords.low}
    </span>
  );
}
