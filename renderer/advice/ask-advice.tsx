/** How a piece of advice was worked out, asked for where it stands. */
import { howAdviceOf, type HowAdviceFigure } from "../../core/legs/how/how-advice.ts";
import type { LegFigures } from "../../core/legs/figures.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { Asked, AskFor } from "../slip/how.tsx";
import { figures } from "../walk-state/figures.ts";
import { adviceWords } from "../words/advice-words.ts";
import { adviceSettings, shownAdvice } from "./advice-state.ts";

interface Props {
  readonly figure: HowAdviceFigure;
  readonly children: preact.ComponentChildren;
}

export const AskAdvice = ({ figure, children }: Props) => (
  <AskFor figure={figure} group={figure} title={adviceWords.howTitle[figure]}>
    {children}
  </AskFor>
);

/** The answer, below the sentence it was asked at. */
export function HowAdvice({ figure, leg }: { readonly figure: HowAdviceFigure; readonly leg: LegFigures }) {
  const all = figures.value;
  return (
    <Asked
      group={figure}
      of={[figure]}
      title={adviceWords.howTitle[figure]}
      sentences={() =>
        all
          ? howAdviceOf(figure, leg, legTableWith(all), {
              advice: shownAdvice.value.advice,
              settings: adviceSettings.value,
            })
          : []
      }
    />
  );
}
