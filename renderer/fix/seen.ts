/** What is seen where one stands: the line of the map one stands at, and the clues that narrow the place down. */
import { computed, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { Clue } from "../../core/fix/clues.ts";
import type { North } from "../../core/fix/sighting.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import { walk } from "../walk-state/walk-document.ts";
import type { LineNear } from "./fix-messages.ts";
import { fixDone } from "./fix-state.ts";
import {
  type BearingRow,
  emptyBearing,
  orFault,
  readHeight,
  readNumber,
  readSighting,
} from "./read-fields.ts";

/** What one stands at after the count: a place in `STOOD_AT`. */
export const stoodAt = signal(0);
/** A place on the line one stands on, as written or picked on the map … */
export const linePlace = signal("");
/** … and the line found there; null before. */
export const line = signal<LineNear | Fault | null>(null);
/** Any line of its kind around counts, not the one alone. */
export const anyLine = signal(false);

export interface ClueFields {
  readonly sight: BearingRow;
  readonly height: string;
  readonly slope: string;
  readonly facing: string;
  readonly facingNorth: North;
}

export const clueFields = signal<ClueFields | null>(null);
const emptyClues = (): ClueFields => ({
  sight: emptyBearing(),
  height: "",
  slope: "",
  facing: "",
  facingNorth: walk.peek().north,
});
export const shownClues = computed<ClueFields>(() => clueFields.value ?? emptyClues());

export function changeClues(change: Partial<ClueFields>): void {
  fixDone.value = null;
  clueFields.value = { ...shownClues.value, ...change };
}

export const readSight = computed(() => orFault(() => readSighting(shownClues.value.sight)));

const written = (text: string): boolean => text.trim() !== "";

/** Height, slope and the way the ground faces. */
export const readGround = computed<readonly Clue[] | Fault>(() => {
  const { height, slope, facing, facingNorth } = shownClues.value;
  return orFault(() => [
    ...(written(height) ? [{ what: "height", elevationM: readHeight(height) } as const] : []),
    ...(written(slope) ? [{ what: "slope", deg: readNumber(slope) } as const] : []),
    ...(written(facing) ? [{ what: "facing", deg: parseBearing(facing), north: facingNorth } as const] : []),
  ]);
});

/** All clues; null while one of them cannot be read. */
export const clues = computed<readonly Clue[] | null>(() => {
  const [sight, ground] = [readSight.value, readGround.value];
  if (sight instanceof Fault || ground instanceof Fault) return null;
  return [...(sight ? [{ what: "sight", sighting: sight } as const] : []), ...ground];
});
