/** The north on which the walk's bearings are given. */
import { setNorth } from "../../core/walk/edits.ts";
import type { North } from "../../core/walk/walk.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";

export const NORTHS: readonly North[] = ["magnetic", "grid", "true"];

export function chooseNorth(north: North): void {
  if (north !== walk.value.north) edit(words.steps.north, (now) => setNorth(now, north));
}
