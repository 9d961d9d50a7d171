/** The slip of bearings: what is written in it, and the place that follows from it. */
import { computed, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { Fix } from "../../core/fix/fix.ts";
import { intersect, resect } from "../../core/fix/from-bearings.ts";
import { type Sighting, usualFixSettings } from "../../core/fix/sighting.ts";
import { parseBearing } from "../../core/units/parse-bearing.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { North } from "../../core/walk/walk.ts";
import { lengthUnit } from "../app/settings.ts";
import { findContext } from "../find/find-context.ts";
import { lookAround } from "../find/look-around.ts";
import { understand } from "../find/understand.ts";
import { walk } from "../walk-state/walk-document.ts";
import { findWords } from "../words/find-words.ts";
import { fixWords } from "../words/fix-words.ts";

export type Way = "resect" | "intersect";

export interface BearingRow {
  readonly bearing: string;
  readonly north: North;
  readonly known: string;
}

/** A row as it is understood: a sighting, what is wrong with it, or null while it is empty. */
export interface ReadRow {
  readonly sighting: Sighting | null;
  readonly fault: Fault | null;
}

const emptyRow = (): BearingRow => ({ bearing: "", north: walk.peek().north, known: "" });
const MOST_ROWS = 8;

export const fixOpen = signal(false);
export const way = signal<Way>("resect");
export const rows = signal<readonly BearingRow[]>([]);
/** Row whose point the next click on the map gives; null when none waits. */
export const picking = signal<number | null>(null);
/** What was done last, said to the person. */
export const fixDone = signal<string | null>(null);

export const mayAddRow = computed(() => rows.value.length < MOST_ROWS);

export function changeRow(n: number, change: Partial<BearingRow>): void {
  fixDone.value = null;
  rows.value = rows.value.map((row, i) => (i === n ? { ...row, ...change } : row));
}

export function addRow(): void {
  if (mayAddRow.value)
    rows.value = [...rows.value, { ...emptyRow(), north: rows.value.at(-1)?.north ?? "magnetic" }];
}

/** Written with enough figures that it is the place clicked, within a few centimetres. */
export function pickKnown(n: number, [lon, lat]: LonLat): void {
  changeRow(n, { known: `${lat.toFixed(6)} ${lon.toFixed(6)}` });
  picking.value = null;
}

export const read = computed<readonly ReadRow[]>(() => rows.value.map(readRow));

function readRow({ bearing, north, known }: BearingRow): ReadRow {
  if (bearing.trim() === "" && known.trim() === "") return { sighting: null, fault: null };
  const meant = understand(known, findContext.value);
  const point = meant.kind === "places" ? (meant.places[0] ?? null) : null;
  try {
    if (meant.kind === "fault") throw meant.fault;
    if (!point) throw new Fault("bad-argument", fixWords.noPoint);
    if (bearing.trim() === "") throw new Fault("bad-argument", fixWords.noBearing);
    // Places by their figures have no name of their own: they are called by their row.
    const name = point.title === findWords.position ? null : point.title;
    const sighting = { known: point.lonLat, name, deg: parseBearing(bearing), north };
    return { sighting, fault: null };
  } catch (thrown) {
    return { sighting: null, fault: Fault.from(thrown) };
  }
}

/** Null while fewer than two bearings can be read. */
export const found = computed<Fix | Fault | null>(() => {
  const sightings = read.value.flatMap(({ sighting }) => sighting ?? []);
  if (!fixOpen.value || sightings.length < 2) return null;
  const { date, declination } = walk.value;
  try {
    const settings = { ...usualFixSettings(date), declination };
    return (way.value === "resect" ? resect : intersect)(sightings, settings, lengthUnit.value);
  } catch (thrown) {
    return Fault.from(thrown);
  }
});

let cameFrom: Element | null = null;

export function openFix(): void {
  if (!fixOpen.peek()) cameFrom = document.activeElement;
  if (rows.peek().length === 0) rows.value = [emptyRow(), emptyRow(), emptyRow()];
  fixOpen.value = true;
  lookAround();
  // After the menu it was asked from has taken the keyboard back.
  setTimeout(() => document.querySelector<HTMLElement>(".fix-slip input[type=text]")?.focus());
}

/** What was written stays for the next time. */
export function closeFix(): void {
  picking.value = null;
  fixOpen.value = false;
  if (cameFrom instanceof HTMLElement && cameFrom.isConnected && cameFrom !== document.body) cameFrom.focus();
  else document.querySelector<HTMLElement>(".maplibregl-canvas")?.focus();
}
