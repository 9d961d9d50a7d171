/**
 * The walk: the document a person makes. Immutable: an edit gives a new walk that shares what did not change.
 * Figures are never stored here; they are functions of the walk, the map and the settings.
 */
import type { LonLat } from "../units/position.ts";

/** Members of a file that this version does not know: kept, and written back. */
export type UnknownMembers = Readonly<Record<string, unknown>>;

export interface WalkPoint {
  /** Stable within the walk, so that selection and drags survive edits. */
  readonly id: string;
  /** The user's own name; null takes the letter of its place in order (A, B, C …). */
  readonly name: string | null;
  readonly lonLat: LonLat;
  readonly note: string;
  readonly unknown: UnknownMembers;
}

export interface Walk {
  readonly title: string;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** Id of the map it was planned on; null when none. */
  readonly mapId: string | null;
  readonly points: readonly WalkPoint[];
  readonly notes: string;
  readonly pace: { readonly per100m: number; readonly steps: 1 | 2 };
  /** Walking-time method; only Naismith in this version. */
  readonly timeMethod: "naismith";
  /** The north on which bearings are given on the slip and the table. */
  readonly north: "magnetic" | "grid" | "true";
  /** Foreign members of the file, at the top and inside our own. */
  readonly unknown: { readonly collection: UnknownMembers; readonly walk: UnknownMembers };
}

/** A, B … Z, AA, AB … for the n-th point, counting from 0. */
export function pointLetter(n: number): string {
  let letters = "";
  for (let i = n; i >= 0; i = Math.floor(i / 26) - 1) letters = String.fromCharCode(65 + (i % 26)) + letters;
  return letters;
}

/** What a point is called on screen and paper. */
export function pointLabel(walk: Walk, index: number): string {
  return walk.points[index]?.name ?? pointLetter(index);
}

/** An empty walk for a day (YYYY-MM-DD). */
export function emptyWalk(date: string): Walk {
  return {
    title: "New walk",
    date,
    mapId: null,
    points: [],
    notes: "",
    pace: { per100m: 65, steps: 2 },
    timeMethod: "naismith",
    north: "magnetic",
    unknown: { collection: {}, walk: {} },
  };
}
