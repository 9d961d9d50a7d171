/** The leg on which settings show what they do: the one on the slip, or an example while there is none. */
import { computed, effect, signal } from "@preact/signals";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import type { LegSettings } from "../../core/legs/leg-settings.ts";
import type { LegTable } from "../../core/legs/table/leg-table.ts";
import type { LonLat } from "../../core/units/position.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { openMap } from "../map-case/map-case.ts";
import { legTableWith } from "../print/leg-table-of-walk.ts";
import { figures, legSettings, shownFigures } from "../walk-state/figures.ts";
import { walk } from "../walk-state/walk-document.ts";

export interface PreviewLeg {
  readonly leg: LegFigures;
  readonly all: WalkFigures;
  readonly table: LegTable;
  readonly isExample: boolean;
}

const example = signal<WalkFigures | null>(null);

const asking = newestWins<{ readonly middle: LonLat | null; readonly settings: LegSettings }, WalkFigures>({
  // Asked for only where there is no leg: most people never load it.
  run: async ({ middle, settings }, stop) =>
    (await import("./example-leg.ts")).exampleFigures(middle, settings, stop),
  answered: (answer) => (example.value = answer),
  failed: () => (example.value = null),
});

/** Keeps the example in step while it is looked at. Returns a function that stops it. */
export const keepExample = (): (() => void) =>
  effect(() => {
    if (walk.value.points.length > 1) return;
    const bounds = openMap.value?.info.bounds;
    const middle: LonLat | null = bounds ? [(bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2] : null;
    asking.ask({ middle, settings: legSettings.value });
  });

export const previewLeg = computed<PreviewLeg | null>(() => {
  const isExample = walk.value.points.length < 2;
  const all = isExample ? example.value : figures.value;
  const leg = isExample ? (all?.legs[0] ?? null) : shownFigures.value;
  return all && leg ? { leg, all, table: legTableWith(all), isExample } : null;
});
