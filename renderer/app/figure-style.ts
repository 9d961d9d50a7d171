/** Numbers and days are written as the person has chosen, in the window and in what its workers say. */
import { computed, effect } from "@preact/signals";
import { localeStyle, writeFiguresBy } from "../../core/units/figure-style.ts";
import { writeAdviceFiguresOf } from "../analysis/advice-worker.ts";
import { worker } from "../analysis/worker.ts";
import { refreshFigures } from "../walk-state/figures.ts";
import { settings } from "./settings.ts";

const locale = computed(() => settings.value.figureLocale);
const style = computed(() => localeStyle(locale.value ?? undefined));

/** Called once, before anything is shown: whatever is drawn follows the choice by reading the style. */
export function keepFigureStyle(): void {
  writeFiguresBy(() => style.value);
  let first = true;
  effect(() => {
    worker.writeFiguresOf(locale.value);
    writeAdviceFiguresOf(locale.value);
    // Sentences a worker put together hold figures too.
    if (!first) refreshFigures();
    first = false;
  });
}
