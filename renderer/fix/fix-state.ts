/** The slip for finding oneself: whether it is open, which way of finding is chosen, and what the next click on the map gives. */
import { signal } from "@preact/signals";
import type { LonLat } from "../../core/units/position.ts";

export const WAYS = ["resect", "onLine", "reckon", "track", "intersect"] as const;
export type Way = (typeof WAYS)[number];

export const fixOpen = signal(false);
export const way = signal<Way>("resect");

/** What the next click on the map gives; null when none waits. */
export interface Picking {
  /** Of the field that waits. */
  readonly id: string;
  /** What is asked of the person. */
  readonly words: string;
  readonly take: (lonLat: LonLat) => void;
}
export const picking = signal<Picking | null>(null);

/** What was done last, said to the person. */
export const fixDone = signal<string | null>(null);

export function chooseWay(next: Way): void {
  picking.value = null;
  fixDone.value = null;
  way.value = next;
}
