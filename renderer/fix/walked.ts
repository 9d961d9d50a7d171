/** What was walked, as written: from where, on which bearings, how far; and where the count ends. */
import { computed, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import {
  deadReckon,
  type ReckonedLeg,
  type Reckoning,
  type ReckoningSettings,
  USUAL_RECKONING,
} from "../../core/fix/dead-reckoning.ts";
import type { North } from "../../core/fix/sighting.ts";
import { toMetres } from "../../core/units/length.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import type { LonLat } from "../../core/units/position.ts";
import { walk } from "../walk-state/walk-document.ts";
import { fixWords } from "../words/fix-words.ts";
import { fixDone, fixOpen, way } from "./fix-state.ts";
import { fixSettings, orFault, readNumber, readPlace } from "./read-fields.ts";

export const LENGTHS = ["paces", "m", "ft", "yd"] as const;

export interface LegRow {
  readonly bearing: string;
  readonly north: North;
  readonly length: string;
  readonly unit: (typeof LENGTHS)[number];
}

const MOST_LEGS = 12;
const emptyLeg = (): LegRow => ({ bearing: "", north: walk.peek().north, length: "", unit: "paces" });

export const from = signal("");
/** The count may have begun anywhere up to here; empty when it began at `from`. */
export const orUpTo = signal("");
export const next = signal("");
export const legs = signal<readonly LegRow[]>([]);
export const mayAddLeg = computed(() => legs.value.length < MOST_LEGS);

/** @param leg letters of the walk's leg one is likely on: from where, and where to */
export function startLegs(leg: readonly [from: string, to: string] | null): void {
  if (legs.peek().length === 0) legs.value = [emptyLeg()];
  if (!leg || from.peek() !== "" || next.peek() !== "") return;
  [from.value, next.value] = leg;
}

export function changeLeg(n: number, change: Partial<LegRow>): void {
  fixDone.value = null;
  legs.value = legs.value.map((leg, i) => (i === n ? { ...leg, ...change } : leg));
}

export function addLeg(): void {
  const { north, unit } = legs.value.at(-1) ?? emptyLeg();
  if (mayAddLeg.value) legs.value = [...legs.value, { ...emptyLeg(), north, unit }];
}

function readLeg({ bearing, north, length, unit }: LegRow): ReckonedLeg | null {
  if (bearing.trim() === "" && length.trim() === "") return null;
  if (bearing.trim() === "") throw new Fault("bad-argument", fixWords.noBearing);
  if (length.trim() === "") throw new Fault("bad-argument", fixWords.noLength);
  const far = readNumber(length);
  return {
    deg: parseBearing(bearing),
    north,
    length: unit === "paces" ? { paces: far } : { metres: toMetres(far, unit) },
  };
}

/** Each leg as it is understood; null while it is empty. */
export const readLegs = computed<readonly (ReckonedLeg | Fault | null)[]>(() =>
  legs.value.map((leg) => orFault(() => readLeg(leg))),
);

export const reckoningSettings = (): ReckoningSettings => ({
  ...fixSettings(),
  spread: USUAL_RECKONING,
  pacesPer100m: walk.value.pace.per100m,
});

export const readFrom = computed(() => orFault(() => readPlace(from.value)));
export const readUpTo = computed(() => orFault(() => readPlace(orUpTo.value)));
export const readNext = computed(() => orFault(() => readPlace(next.value)));

export interface Walked {
  readonly from: LonLat;
  readonly legs: readonly ReckonedLeg[];
}

/** Null while there is no start or no leg, or while a leg cannot be read: a count with a leg left out would be wrong. */
export const walked = computed<Walked | null>(() => {
  const [start, all] = [readFrom.value, readLegs.value];
  const whole = all.filter((leg) => leg !== null);
  if (!start || start instanceof Fault || whole.length === 0) return null;
  const sure = whole.flatMap((leg) => (leg instanceof Fault ? [] : [leg]));
  return sure.length < whole.length ? null : { from: start.lonLat, legs: sure };
});

/** Rings are drawn this often along the way, at least three to a leg of any length. */
const ringsEvery = (wholeM: number): number => Math.max(1, wholeM / 8);

export const reckoned = computed<Reckoning | Fault | null>(() => {
  if (!fixOpen.value || way.value !== "reckon" || !walked.value) return null;
  const { from: start, legs: those } = walked.value;
  return orFault(() => {
    const wholeM = deadReckon(start, those, reckoningSettings()).end.walkedM;
    return deadReckon(start, those, reckoningSettings(), ringsEvery(wholeM));
  });
});
