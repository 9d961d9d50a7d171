/** Figures of the shown walk, worked out by the worker and kept in step with every change, drags included. */
import { computed, effect, signal } from "@preact/signals";
import { DEFAULT_LEG_SETTINGS, type LegSettings } from "../../core/legs/leg-settings.ts";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import { pointLabel } from "../../core/walk/walk.ts";
import type { Fault } from "../../core/fault.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import type { WalkEnd } from "../worker/messages.ts";
import { shownLeg } from "./selection.ts";
import { walk } from "./walk-document.ts";

/** What the figures are worked out with; shown beside them. */
export const legSettings = computed<LegSettings>(() => ({
  ...DEFAULT_LEG_SETTINGS,
  date: walk.value.date,
  pacesPer100m: walk.value.pace.per100m,
  paceSteps: walk.value.pace.steps,
}));

/** The newest figures there are; during a drag they may lag a frame behind the walk. */
export const figures = signal<WalkFigures | null>(null);
export const figuresFault = signal<Fault | null>(null);

/** Figures of the leg on the slip. */
export const shownFigures = computed<LegFigures | null>(() => {
  const leg = shownLeg.value;
  return leg === null ? null : (figures.value?.legs[leg] ?? null);
});

const ends = computed<readonly WalkEnd[]>(() =>
  walk.value.points.map((point, i) => ({ label: pointLabel(walk.value, i), lonLat: point.lonLat })),
);

interface FigureQuestion {
  readonly ends: readonly WalkEnd[];
  readonly settings: LegSettings;
}

const asking = newestWins<FigureQuestion, WalkFigures>({
  run: (question, signal) => worker.ask("figures", [question.ends, question.settings], signal),
  answered(answer) {
    figures.value = answer;
    figuresFault.value = null;
  },
  failed(fault) {
    figures.value = null;
    figuresFault.value = fault;
  },
});

/** Asks again with the map now open. */
export function refreshFigures(): void {
  asking.ask({ ends: ends.peek(), settings: legSettings.peek() });
}

/** Follows the walk from now on; called once. */
export function keepFigures(): void {
  effect(() => {
    asking.ask({ ends: ends.value, settings: legSettings.value });
  });
}
