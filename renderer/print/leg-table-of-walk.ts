/** The leg table of the open walk, for paper and for spreadsheets. */
import { Fault } from "../../core/fault.ts";
import type { LegTable } from "../../core/legs/leg-table.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import { worker } from "../analysis/worker.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { legSettings } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

/**
 * Works the figures out anew, so that paper never shows a walk from the middle of a drag.
 * @throws Fault when the walk has no leg
 */
export async function legTableOfWalk(): Promise<LegTable> {
  const now = walk.value;
  if (now.points.length < 2) throw new Fault("bad-argument", words.notices.noLeg);
  const points = now.points.map((point, i) => ({ label: pointLabel(now, i), lonLat: point.lonLat }));
  const used = legSettings.value;
  return {
    title: now.title,
    date: now.date,
    points,
    figures: await worker.ask("figures", [points, used]),
    map: openMap.value?.info ?? null,
    settings: used,
    north: now.north,
    lengthUnit: settings.value.lengthUnit,
    notes: now.notes,
  };
}
