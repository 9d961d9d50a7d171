/** The norths at the leg, drawn to their angles, and what to do with a bearing of the map, in words. */
import { bearingToSet } from "../../core/legs/norths/bearing-to-set.ts";
import type { DeclinationFigure, LegFigures } from "../../core/legs/figures.ts";
import { northRuleSentence } from "../../core/legs/how/how-norths.ts";
import { formatEastWest, formatNumber } from "../../core/units/format.ts";
import { settings } from "../app/settings.ts";
import { NorthDiagram } from "../sums/north-diagram.tsx";
import { walk } from "../walk-state/walk-document.ts";
import { settingsWords } from "../words/settings-words.ts";
import { words } from "../words/words.ts";
import { Ask, HowPanel } from "./how.tsx";

interface Props {
  readonly leg: LegFigures;
  readonly declination: DeclinationFigure;
}

export function NorthsHere({ leg, declination }: Props) {
  const { gridConvergenceDeg, declinationDeg } = leg;
  const { north } = walk.value;
  const set = bearingToSet(leg, settings.value.compass, north);
  return (
    <section class="slip-norths" aria-label={settingsWords.slip.norths}>
      {declinationDeg !== null && (
        <p data-test="north-rule">
          {set.adjustmentDeg === null
            ? northRuleSentence(declinationDeg, gridConvergenceDeg, { north })
            : settingsWords.slip.adjusted(formatEastWest(set.adjustmentDeg), words.north[set.north])}
        </p>
      )}
      <p>
        <Ask figure="declination" group="norths">
          <span data-test="declination">{declinationText(leg, declination)}</span>
        </Ask>
      </p>
      <HowPanel group="norths" of={["declination"]} leg={leg} />
      {gridConvergenceDeg !== null && (
        <NorthDiagram convergenceDeg={gridConvergenceDeg} declinationDeg={declinationDeg} />
      )}
    </section>
  );
}

/** The declination that rules, with its source; the other one beside it where there are two. */
function declinationText(
  { declinationDeg, declinationModelDeg, declinationPrintedDeg }: LegFigures,
  { from, model, modelUncertaintyDeg }: DeclinationFigure,
): string {
  const { slip } = settingsWords;
  if (declinationDeg === null) return slip.noDeclination;
  const byModel = words.slip.declination(
    formatEastWest(declinationModelDeg),
    model ?? "",
    modelUncertaintyDeg === null ? null : `${formatNumber(modelUncertaintyDeg, 1)}°`,
  );
  if (from === "model")
    return declinationPrintedDeg === null
      ? byModel
      : slip.besideMargin(byModel, formatEastWest(declinationPrintedDeg));
  const byMargin = slip.byMargin(formatEastWest(declinationPrintedDeg));
  return model === null ? byMargin : slip.besideModel(byMargin, formatEastWest(declinationModelDeg), model);
}
