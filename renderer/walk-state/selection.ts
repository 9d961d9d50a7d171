/** What is picked and what is pointed at, shared by map, ribbon, slip and table. Never part of the undo history. */
import { computed, signal } from "@preact/signals";
import { walk } from "./walk-document.ts";

/** A point, or the leg that arrives at it; by id, so that it outlives edits. */
export type Picked = { readonly kind: "point" | "leg"; readonly pointId: string } | null;

export const picked = signal<Picked>(null);

/** Place of the picked point in the walk; −1 when none is picked or it is gone. */
const pickedIndex = computed(() => {
  const id = picked.value?.pointId;
  return id === undefined ? -1 : walk.value.points.findIndex((point) => point.id === id);
});

/** Picked point by its place in the walk; null when a leg or nothing is picked. */
export const pickedPoint = computed(() =>
  picked.value?.kind === "point" && pickedIndex.value >= 0 ? pickedIndex.value : null,
);

/**
 * The leg on the slip, counting from 0: the picked one, or the one arriving at the picked point (the first leg for
 * the first point); with nothing picked the last. Null while there is no leg.
 */
export const shownLeg = computed<number | null>(() => {
  const legs = walk.value.points.length - 1;
  if (legs < 1) return null;
  return pickedIndex.value < 0 ? legs - 1 : Math.max(0, pickedIndex.value - 1);
});

/** The point from which the cursor's bearing and distance count: the picked one, else the last. */
export const referencePoint = computed<number | null>(() => {
  const count = walk.value.points.length;
  if (count === 0) return null;
  return pickedIndex.value >= 0 ? pickedIndex.value : count - 1;
});

export function pickLeg(leg: number): void {
  const end = walk.value.points[leg + 1];
  picked.value = end ? { kind: "leg", pointId: end.id } : null;
}

export function pickPoint(index: number): void {
  const point = walk.value.points[index];
  picked.value = point ? { kind: "point", pointId: point.id } : null;
}

/** A place pointed at on the ribbon or the table: metres from the start of a leg (counting from 0). */
export interface PlaceOnLeg {
  readonly leg: number;
  readonly atM: number;
  /** Where the pointer is, so that the other side shows the mark. */
  readonly from: "ribbon" | "map" | "slip";
}

export const pointedAt = signal<PlaceOnLeg | null>(null);

/** A stretch of a leg pointed at, such as a spur it crosses: metres from the leg's start. */
export interface StretchOfLeg {
  readonly leg: number;
  readonly fromM: number;
  readonly toM: number;
}

export const pointedStretch = signal<StretchOfLeg | null>(null);
/** A leg pointed at in any of the views, counting from 0. */
export const pointedLeg = signal<number | null>(null);
