/** The leg table of the open walk, for the screen, for paper and for spreadsheets. */
import { Fault } from "../../core/fault.ts";
import type { WalkFigures } from "../../core/legs/figures.ts";
import type { LegTable } from "../../core/legs/table/leg-table.ts";
import type { WalkAdvice } from "../../core/legs/advice/advice.ts";
import { ownInstructionsOf } from "../../core/walk/own-instruction.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { legSettings, walkEnds } from "../walk-state/figures.ts";
import { worker } from "../analysis/worker.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

/** The table of the walk as it stands, with figures at hand. */
export function legTableWith(figures: WalkFigures, advice: WalkAdvice | null = null): LegTable {
  const { title, date, north, notes } = walk.value;
  return {
    title,
    date,
    points: walkEnds.value,
    figures,
    map: openMap.value?.info ?? null,
    settings: legSettings.value,
    north,
    compass: settings.value.compass,
    lengthUnit: lengthUnit.value,
    notes,
    ownInstructions: ownInstructionsOf(walk.value.points, figures.legs),
    ...(advice && { advice }),
  };
}

/**
 * The table with its figures worked out anew, so that paper never shows a walk from the middle of a drag.
 * @param advice on the whole walk; null leaves odds and ways out off
 * @throws Fault when the walk has no leg
 */
export async function legTableOfWalk(advice: WalkAdvice | null = null): Promise<LegTable> {
  if (walkEnds.value.length < 2) throw new Fault("bad-argument", words.notices.noLeg);
  return legTableWith(await worker.ask("figures", [walkEnds.value, legSettings.value]), advice);
}
