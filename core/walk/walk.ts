/**
 * The walk: the document a person makes. Immutable: an edit gives a new walk that shares what did not change.
 * Figures are never stored here; they are functions of the walk, the map and the settings.
 */
import type { PrintedNorth } from "../geodesy/printed-declination.ts";
import { NO_FACTORS, type TimeFactors, type TimeMethod } from "../travel/walking-time.ts";
import type { LonLat } from "../units/position.ts";
import type { OwnInstruction } from "./own-instruction.ts";

/** Members of a file that this version does not know: kept, and written back. */
export type UnknownMembers = Readonly<Record<string, unknown>>;

/** Unknown members of one GeoJSON feature: beside `geometry`, and inside `properties`. */
export interface UnknownOfFeature {
  readonly feature: UnknownMembers;
  readonly properties: UnknownMembers;
}

export interface WalkPoint {
  /** Stable within the walk, so that selection and drags survive edits. */
  readonly id: string;
  /** The user's own name; null takes the letter of its place in order (A, B, C …). */
  readonly name: string | null;
  readonly lonLat: LonLat;
  readonly note: string;
  readonly unknown: UnknownOfFeature;
  /** The leg that starts here is to be walked aiming off, where that can be done. */
  readonly aimOff: boolean;
  /** The person's own text for the leg that starts here; null takes the program's. */
  readonly instruction: OwnInstruction | null;
  /** What another program wrote on the leg that starts here. */
  readonly unknownOfLeg: UnknownOfFeature;
}

export type North = "magnetic" | "grid" | "true";

/** Paces per 100 m of map distance; a pace is two steps, or one in the count of some manuals. */
export interface WalkPace {
  /** On flat ground. */
  readonly per100m: number;
  /** Going up and going down a slope; null takes the count of flat ground. */
  readonly upPer100m: number | null;
  readonly downPer100m: number | null;
  readonly steps: 1 | 2;
}

/** Whose declination rules the magnetic bearings. */
export interface WalkDeclination {
  readonly use: "model" | "printed";
  /** What the printed map's margin says; kept while the model rules, so that the two can be compared. */
  readonly printed: PrintedNorth | null;
  /** The person insists on a day beyond the model's years: every figure that rests on it is marked. */
  readonly beyondModel: boolean;
}

export interface Walk {
  readonly title: string;
  /** Day of the walk, YYYY-MM-DD. */
  readonly date: string;
  /** Id of the map it was planned on; null when none. */
  readonly mapId: string | null;
  readonly points: readonly WalkPoint[];
  readonly notes: string;
  readonly pace: WalkPace;
  /** How walking time is worked out … */
  readonly timeMethod: TimeMethod;
  /** … and what the party adds to it. */
  readonly timeFactors: TimeFactors;
  /** Clock time of setting out, HH:MM; null when not decided. */
  readonly startTime: string | null;
  /** Clock time by which to be back, HH:MM; null takes sunset. */
  readonly backBy: string | null;
  /** Time zone of the clock, such as "Europe/Oslo"; null is the computer's. */
  readonly timeZone: string | null;
  readonly declination: WalkDeclination;
  /** The north on which bearings are given first on the slip and the table. */
  readonly north: North;
  /** Foreign members and features of the file that are not ours. */
  readonly unknown: {
    readonly collection: UnknownMembers;
    readonly walk: UnknownMembers;
    readonly features: readonly unknown[];
  };
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

export const NOTHING_UNKNOWN: UnknownOfFeature = { feature: {}, properties: {} };

/** An empty walk for a day (YYYY-MM-DD). */
export function emptyWalk(date: string): Walk {
  return {
    title: "New walk",
    date,
    mapId: null,
    points: [],
    notes: "",
    // 60–70 double paces in 100 m: common practice, no source.
    pace: { per100m: 65, upPer100m: null, downPer100m: null, steps: 2 },
    timeMethod: "naismith",
    timeFactors: NO_FACTORS,
    startTime: null,
    backBy: null,
    timeZone: null,
    declination: { use: "model", printed: null, beyondModel: false },
    north: "magnetic",
    unknown: { collection: {}, walk: {}, features: [] },
  };
}
