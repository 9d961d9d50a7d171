/** Figures of the shown walk, worked out by the worker and kept in step with every change, drags included. */
import { computed, effect, signal } from "@preact/signals";
import { type LegSettings, legSettingsOf } from "../../core/legs/leg-settings.ts";
import type { LegFigures, WalkFigures } from "../../core/legs/figures.ts";
import { legChoicesOf } from "../../core/legs/advice/aid-settings.ts";
import { legEndsOf } from "../../core/walk/leg-ends.ts";
import type { Fault } from "../../core/fault.ts";
import { lengthUnit, settings } from "../app/settings.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { worker } from "../analysis/worker.ts";
import type { WalkEnd } from "../worker/messages.ts";
import { shownLeg } from "./selection.ts";
import { dragging, walk } from "./walk-document.ts";

/** What the figures are worked out with; shown beside them. */
export const legSettings = computed<LegSettings>(() =>
  legSettingsOf(walk.value, {
    lengthUnit: lengthUnit.value,
    graduationDeg: settings.value.compass.graduationDeg,
    ...legChoicesOf(settings.value.aids),
  }),
);

/** The newest figures there are; during a drag they may lag a frame behind the walk. */
export const figures = signal<WalkFigures | null>(null);
export const figuresFault = signal<Fault | null>(null);

/** Figures of the leg on the slip. */
export const shownFigures = computed<LegFigures | null>(() => {
  const leg = shownLeg.value;
  return leg === null ? null : (figures.value?.legs[leg] ?? null);
});

/** The walk's points as the figures take them. */
export const walkEnds = computed<readonly WalkEnd[]>(() => legEndsOf(walk.value));

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
  asking.ask({ ends: walkEnds.peek(), settings: legSettings.peek() });
}

/** Follows the walk from now on; called once. */
export function keepFigures(): void {
  effect(() => {
    asking.ask({ ends: walkEnds.value, settings: legSettings.value });
  });
}

/** Slow enough to leave the frames of a drag to map and slip, fast enough to be followed by eye. */
const CALM_MS = 150;

/** The figures for what is costly to draw: as `figures`, but in steps while a point is dragged. */
export const calmFigures = signal<WalkFigures | null>(null);

/** Called once. */
export function keepCalm(): void {
  let timer: ReturnType<typeof setTimeout> | null = null;
  const follow = (): void => {
    timer = null;
    calmFigures.value = figures.peek();
  };
  effect(() => {
    const newest = figures.value;
    if (dragging.value) {
      timer ??= setTimeout(follow, CALM_MS);
      return;
    }
    if (timer !== null) clearTimeout(timer);
    timer = null;
    calmFigures.value = newest;
  });
}
