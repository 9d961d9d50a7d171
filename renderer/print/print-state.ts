/** What is chosen for paper: remembered from walk to walk but for where the sheets lie. */
import { computed, effect, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { PlacedFrame } from "../../core/sheet/layout/sheet-plan.ts";
import { type SheetPlans, sheetPlans } from "../../core/sheet/sheet-plans.ts";
import { sheetGrid } from "../../core/sheet/sheet-grid.ts";
import type { PrintWish } from "../../core/sheet/sheet-job.ts";
import type { PrintChoices } from "../../electron/contract.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { documentNumber, walk } from "../walk-state/walk-document.ts";

export const choices = computed<PrintChoices>(() => settings.value.print);

export function choose(change: Partial<PrintChoices>): void {
  changeSettings({ print: { ...choices.peek(), ...change } });
}

/** Sheets put by hand, of the walk that is open; null while they are laid out by themselves. */
export const frames = signal<readonly PlacedFrame[] | null>(null);

/** The sheets of one walk are not those of another; called once. */
export function keepFramesOfWalk(): void {
  effect(() => {
    void documentNumber.value;
    frames.value = null;
  });
}

export const wish = computed<PrintWish>(() => ({ ...choices.value, frames: frames.value }));

export const hasLeg = computed(() => walk.value.points.length > 1);

/** How the sheets lie, or why they cannot. */
export const plans = computed<SheetPlans | Fault>(() => {
  const { paper, landscape, scale, way, up, roamer, grid } = choices.value;
  const points = walk.value.points.map(({ lonLat }) => lonLat);
  const bounds = openMap.value?.info.bounds ?? null;
  try {
    return sheetPlans(
      points,
      { paper, landscape, scale, way, up, roamer, frames: frames.value },
      bounds,
      sheetGrid(grid, points[0] ?? (bounds && [bounds[0], bounds[1]])),
    );
  } catch (thrown) {
    return Fault.from(thrown);
  }
});

/** The print screen is put away while sheets are moved on the map. */
export const placing = signal(false);
