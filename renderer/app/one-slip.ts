/**
 * One slip for a piece of work lies in the corner at a time: who opens another puts the first away, and finds it as it
 * was on coming back to it.
 */
import { effect, untracked } from "@preact/signals";
import { besideOpen } from "../beside/beside-state.ts";
import { courseOpen } from "../course/course-state.ts";
import { findOpen } from "../find/find-state.ts";
import { fixOpen, picking } from "../fix/fix-state.ts";
import { drawerOpen } from "./window.tsx";

const SLIPS = [findOpen, fixOpen, courseOpen, besideOpen];

/** Called once. */
export function keepOneSlip(): void {
  for (const own of SLIPS)
    effect(() => {
      if (!own.value) return;
      untracked(() => {
        for (const other of SLIPS) if (other !== own) other.value = false;
        // In a narrow window the leg slip is a drawer over the corner.
        drawerOpen.value = false;
        // A click on the map is no longer meant for a slip that is away.
        if (own !== fixOpen) picking.value = null;
      });
    });
}
