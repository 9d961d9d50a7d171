/** Where learners stopped, as measured, and what it says of bearing and count. */
import { computed, signal } from "@preact/signals";
import { type Score, scoreOf, spreadOf } from "../../core/course/scoring.ts";
import { Fault } from "../../core/fault.ts";
import { formatQuantity } from "../../core/units/format.ts";
import { pointLetter } from "../../core/walk/walk.ts";
import { readNumber } from "../settings/read-entry.ts";
import { figures } from "../walk-state/figures.ts";
import { fieldSet } from "./field-state.ts";

export const SCORED = ["field", "walk", "own"] as const;
export type Scored = (typeof SCORED)[number];

export interface ScoredLeg {
  readonly name: string;
  readonly lengthM: number;
}

export const scored = signal<Scored>("field");
export const ownLengthM = signal(100);

export const scoredLegs = computed<readonly ScoredLeg[]>(() => {
  if (scored.value === "own")
    return [{ name: formatQuantity(ownLengthM.value, "m"), lengthM: ownLengthM.value }];
  if (scored.value === "walk")
    return (figures.value?.legs ?? []).map(({ distanceM }, i) => ({
      name: `${pointLetter(i)} → ${pointLetter(i + 1)}, ${formatQuantity(distanceM, "m")}`,
      lengthM: distanceM,
    }));
  const course = fieldSet.value;
  if (course instanceof Fault) return [];
  return course.legs.map(({ from, to, lengthM }) => ({
    name: `${from} → ${to}, ${formatQuantity(lengthM, "m")}`,
    lengthM,
  }));
});

/** As typed; both empty where nothing was measured. */
export interface Measured {
  readonly beyond: string;
  readonly aside: string;
}

const NOTHING: Measured = { beyond: "", aside: "" };
const typed = signal<ReadonlyMap<string, Measured>>(new Map());
/** Legs of other lengths are other legs: what was measured on them does not count here. */
const keyOf = (leg: ScoredLeg, n: number): string => [scored.value, n, leg.name, leg.lengthM].join("|");

export const measuredOn = (leg: ScoredLeg, n: number): Measured => typed.value.get(keyOf(leg, n)) ?? NOTHING;

export function measure(leg: ScoredLeg, n: number, change: Partial<Measured>): void {
  const next = { ...measuredOn(leg, n), ...change };
  for (const text of [next.beyond, next.aside]) metres(text);
  typed.value = new Map([...typed.value, [keyOf(leg, n), next]]);
}

export const wipeMeasured = (): void => {
  typed.value = new Map();
};

const metres = (text: string): number => (text.trim() === "" ? 0 : readNumber(text, "3"));

/** By leg; null where nothing was measured. */
export const scores = computed<readonly (Score | null)[]>(() =>
  scoredLegs.value.map((leg, n) => {
    const { beyond, aside } = measuredOn(leg, n);
    if (beyond.trim() === "" && aside.trim() === "") return null;
    return scoreOf(
      { bearingDeg: 0, lengthM: leg.lengthM },
      { beyondM: metres(beyond), asideM: metres(aside) },
    );
  }),
);

export const scoreSpread = computed(() => {
  const all = scores.value.filter((score) => score !== null);
  const spread = spreadOf(all);
  return spread && all.length > 1 ? { ...spread, count: all.length } : null;
});
