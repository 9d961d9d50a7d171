/** The leg table of a job: its figures worked out on the ground it is printed on, the same as on screen. */
import { Fault } from "../fault.ts";
import { adviceOn, walkEscape } from "../legs/advice/walk-advice.ts";
import type { LegAdvice, WalkAdvice } from "../legs/advice/advice.ts";
import { legSettingsOf } from "../legs/leg-settings.ts";
import type { LegTable } from "../legs/table/leg-table.ts";
import { walkFigures } from "../legs/walk-figures.ts";
import type { Ground } from "../terrain/ground.ts";
import { legEndsOf } from "../walk/leg-ends.ts";
import { ownInstructionsOf } from "../walk/own-instruction.ts";
import type { SheetJob } from "./sheet-job.ts";

/**
 * @param told after each leg whose advice is worked out
 * @throws Fault as `walkFigures`; "cancelled" when the signal is aborted
 */
export async function jobTable(
  { walk, compass, lengthUnit, choices, advice: how }: SheetJob,
  ground: Ground | null,
  withAdvice: boolean,
  signal: AbortSignal | undefined,
  told: (leg: number) => Promise<void>,
): Promise<LegTable> {
  const settings = legSettingsOf(walk, { graduationDeg: compass.graduationDeg, lengthUnit, ...choices });
  const points = legEndsOf(walk);
  const figures = await walkFigures(points, ground, settings, signal);
  let advice: WalkAdvice | null = null;
  if (withAdvice) {
    const legs: LegAdvice[] = [];
    for (const leg of figures.legs) {
      await told(legs.length);
      if (signal?.aborted) throw new Fault("cancelled", "Working out the advice was cancelled.");
      legs.push(await adviceOn(leg, ground, settings, how, signal));
    }
    advice = { settings: how, legs, ...(await walkEscape(figures.legs, ground, settings, how, signal)) };
  }
  return {
    title: walk.title,
    date: walk.date,
    points,
    figures,
    map: ground?.map.info ?? null,
    settings,
    north: walk.north,
    compass,
    lengthUnit,
    notes: walk.notes,
    ownInstructions: ownInstructionsOf(walk.points, figures.legs),
    ...(advice && { advice }),
  };
}
