/** Worksheets: questions on a map, each with one answer, how far off it may be, and how it is found. */
import type { DrillLevel } from "./level.ts";
import type { LonLat } from "../../units/position.ts";

export const DRILL_KINDS = [
  "bearing",
  "norths",
  "back",
  "reference",
  "distance",
  "climb",
  "landform",
  "profile",
  "aimOff",
  "handrail",
] as const;
export type DrillKind = (typeof DRILL_KINDS)[number];

/** On one worksheet. */
export const MOST_QUESTIONS = 60;

/** A place drawn on the learner's map. */
export interface Mark {
  /** "3A": the question's number and a letter. */
  readonly label: string;
  readonly lonLat: LonLat;
}

/** The ground along a line, for a sketch: heights at even distances from its start. */
export interface Sketch {
  readonly distanceM: readonly number[];
  readonly elevationM: readonly number[];
}

export interface Answer {
  readonly text: string;
  /** The figure by itself, for programs: degrees, metres or a count; null for words. */
  readonly value: number | null;
  /** An answer within this of the value is right; null for words. Same unit. */
  readonly within: number | null;
  /** What counts as right, a sentence. */
  readonly accepted: string;
  /** For a profile: what the sketch should look like. */
  readonly sketch: Sketch | null;
}

export interface Question {
  /** From 1. */
  readonly n: number;
  readonly kind: DrillKind;
  /** What the learner is to do, sentences that name the marks. */
  readonly ask: string;
  /** Places to be drawn on the map; none for sums. */
  readonly marks: readonly Mark[];
  /** Whether the marks are joined by a line on the map. */
  readonly joined: boolean;
  readonly answer: Answer;
  /** How it is found, step by step. */
  readonly working: readonly string[];
}

export interface DrillWish {
  readonly centre: LonLat;
  /** Marks lie no farther from the centre, metres: so that they fit on one sheet. */
  readonly radiusM: number;
  /** Denominator of the sheet's scale: lines are long enough to be measured on it. */
  readonly scale: number;
  readonly kinds: readonly DrillKind[];
  readonly questions: number;
  /** Default "middle". */
  readonly level?: DrillLevel;
  /** Whole number: the same seed on the same map gives the same worksheet. */
  readonly seed: number;
}

export interface Worksheet {
  readonly wish: DrillWish;
  readonly questions: readonly Question[];
  /** Kinds asked for of which this ground gave none, and why, sentences. */
  readonly notes: readonly string[];
}

/** Answers that are a figure. */
export const figureAnswer = (text: string, value: number, within: number, accepted: string): Answer => ({
  text,
  value,
  within,
  accepted,
  sketch: null,
});

export const wordAnswer = (text: string, accepted: string): Answer => ({
  text,
  value: null,
  within: null,
  accepted,
  sketch: null,
});
