/** Changes of the walk from the settings: refused ones throw to the blank they were typed in. */
import type { Walk } from "../../core/walk/walk.ts";
import { edit, walk } from "../walk-state/walk-document.ts";

/**
 * One named step of the walk's history.
 * @throws Fault when the change cannot be; then nothing was changed
 */
export function changeWalk(step: string, change: (walk: Walk) => Walk): void {
  change(walk.value);
  edit(step, change);
}
