/** Practice courses: what is asked for, and what is set. */
import type { Kind } from "../map/kinds.ts";
import type { LonLat } from "../units/position.ts";
import type { LegFigures } from "../legs/figures.ts";
import type { Odds } from "../legs/odds/simulate.ts";

/**
 * "round": from the start through every point and back to it; "line": one after the other, ending elsewhere; "star": out to each
 * point and back to the start; "scatter": every point from the start, in any order the learner likes.
 */
export const COURSE_KINDS = ["round", "line", "star", "scatter"] as const;
export type CourseKind = (typeof COURSE_KINDS)[number];

export const COURSE_LEVELS = ["easy", "middling", "hard"] as const;
export type CourseLevel = (typeof COURSE_LEVELS)[number];

/** From and to, both included. */
export type Range = readonly [least: number, most: number];

/** The rules of a course. Every one is the setter's to change; a level is a set of them. */
export interface CourseRules {
  readonly legM: Range;
  /** Of all legs together; null leaves it open. */
  readonly totalM: Range | null;
  /** Climb of all legs together, metres; null leaves it open. */
  readonly climbM: Range | null;
  /**
   * "found": every point stands on something that can be found without counting (a junction, a summit, a building, a bend …);
   * "bare": on nothing, so that only bearing and count lead there.
   */
  readonly on: "found" | "bare";
  /** Every leg has a line that stops nearly all who go past. */
  readonly backstops: boolean;
  /** Share of simulated walkers who must find each point; null asks no odds. */
  readonly oddsAtLeast: number | null;
  /** Dangers may not lie on the leg ("line"), nor cliffs and steep ground anywhere within its drift cone ("cone"). */
  readonly clearOf: "line" | "cone";
  /** Points lie at least this far from one another, metres, so that one is not taken for another. */
  readonly apartM: number;
}

export interface CourseWish extends CourseRules {
  readonly kind: CourseKind;
  readonly start: LonLat;
  /** Points to be found, the start not counted. */
  readonly points: number;
  /** Whole number: the same seed on the same map gives the same course. */
  readonly seed: number;
}

/** What each level asks. Common practice, no source for the figures: short legs with a backstop first, then longer ones, then bare ground. */
export const LEVEL_RULES: Readonly<Record<CourseLevel, CourseRules>> = {
  easy: {
    legM: [150, 400],
    totalM: null,
    climbM: null,
    on: "found",
    backstops: true,
    oddsAtLeast: 0.7,
    clearOf: "cone",
    apartM: 100,
  },
  middling: {
    legM: [250, 700],
    totalM: null,
    climbM: null,
    on: "found",
    backstops: false,
    oddsAtLeast: 0.5,
    clearOf: "line",
    apartM: 100,
  },
  hard: {
    legM: [400, 1000],
    totalM: null,
    climbM: null,
    on: "bare",
    backstops: false,
    oddsAtLeast: null,
    clearOf: "line",
    apartM: 100,
  },
};

export interface CoursePoint {
  readonly lonLat: LonLat;
  /** What it stands on; null for bare ground and for a start that was given. */
  readonly kind: Kind | null;
  readonly name: string | null;
  /** "the junction of a path and Moor Road"; "nothing: bearing and count lead here". */
  readonly words: string;
}

export interface CourseLeg {
  /** Places in `points`. */
  readonly from: number;
  readonly to: number;
  readonly figures: LegFigures;
  /** Null where the rules ask no odds. */
  readonly odds: Odds | null;
}

export interface Course {
  readonly wish: CourseWish;
  /** The start first. */
  readonly points: readonly CoursePoint[];
  readonly legs: readonly CourseLeg[];
  readonly distanceM: number;
  /** Null where heights are missing on a leg. */
  readonly climbM: number | null;
  readonly descentM: number | null;
  readonly difficulty: Difficulty;
}

/** How hard a course is, so that several can be told equal. */
export interface Difficulty {
  /**
   * Metres on flat ground that tire as much: the distance, and ten metres for every 1.2 m of climb.
   * Source: Naismith's rule (W. W. Naismith, 1892): three miles an hour and half an hour for every 1000 feet, that is 8 m flat for 1 m up.
   */
  readonly effortM: number;
  /** Share of simulated walkers who do not find a point, mean over the legs; null where no odds were asked. */
  readonly missedShare: number | null;
}

/** Which points the legs join, in order of walking. */
export function legsOf(kind: CourseKind, points: number): readonly (readonly [from: number, to: number])[] {
  const targets = Array.from({ length: points }, (_, i) => i + 1);
  if (kind === "star")
    return targets.flatMap((i): [number, number][] => [
      [0, i],
      [i, 0],
    ]);
  if (kind === "scatter") return targets.map((i) => [0, i] as const);
  const along = targets.map((i) => [i - 1, i] as const);
  return kind === "round" ? [...along, [points, 0]] : along;
}
