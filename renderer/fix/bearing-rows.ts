/** Bearings to or from known points, as written, and the place that follows from them. */
import { computed, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { Fix } from "../../core/fix/fix.ts";
import { intersect, resect } from "../../core/fix/from-bearings.ts";
import type { Sighting } from "../../core/fix/sighting.ts";
import { lengthUnit } from "../app/settings.ts";
import { fixDone, fixOpen, way } from "./fix-state.ts";
import { type BearingRow, emptyBearing, fixSettings, orFault, readSighting } from "./read-fields.ts";

const MOST_ROWS = 8;

export const rows = signal<readonly BearingRow[]>([]);
export const mayAddRow = computed(() => rows.value.length < MOST_ROWS);

export function startBearings(): void {
  if (rows.peek().length === 0) rows.value = [emptyBearing(), emptyBearing(), emptyBearing()];
}

export function changeRow(n: number, change: Partial<BearingRow>): void {
  fixDone.value = null;
  rows.value = rows.value.map((row, i) => (i === n ? { ...row, ...change } : row));
}

export function addRow(): void {
  if (mayAddRow.value)
    rows.value = [...rows.value, { ...emptyBearing(), north: rows.value.at(-1)?.north ?? "magnetic" }];
}

/** Into the first row that has no known point; a new one when all have. @returns its number from 0, null when full */
export function knownIntoRow(known: string): number | null {
  const free = rows.value.findIndex((row) => row.known.trim() === "");
  if (free < 0) addRow();
  const n = free < 0 ? rows.value.findIndex((row) => row.known.trim() === "") : free;
  if (n < 0) return null;
  changeRow(n, { known });
  return n;
}

/** Each row as it is understood; null while it is empty. */
export const read = computed<readonly (Sighting | Fault | null)[]>(() =>
  rows.value.map((row) => orFault(() => readSighting(row))),
);

/** Null while fewer than two bearings can be read. */
export const found = computed<Fix | Fault | null>(() => {
  if (!fixOpen.value || (way.value !== "resect" && way.value !== "intersect")) return null;
  const sightings = read.value.flatMap((one) => (one === null || one instanceof Fault ? [] : [one]));
  if (sightings.length < 2) return null;
  return orFault(() =>
    (way.value === "resect" ? resect : intersect)(sightings, fixSettings(), lengthUnit.value),
  );
});
