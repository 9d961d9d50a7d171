/** What a person asks of practice courses, and the wish made of it. */
import { signal } from "@preact/signals";
import {
  type CourseKind,
  type CourseLevel,
  type CourseRules,
  type CourseWish,
  LEVEL_RULES,
  type Range,
} from "../../core/course/course.ts";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import { readPlace } from "../fix/read-fields.ts";
import { mapView } from "../map/view-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";

export const COURSE_STARTS = ["view", "walk", "place"] as const;
export type CourseStart = (typeof COURSE_STARTS)[number];

/** Metres; null is open. */
export type Limits = readonly [least: number | null, most: number | null];

export interface CourseChoices {
  readonly kind: CourseKind;
  readonly level: CourseLevel;
  readonly points: number;
  readonly legM: Range;
  readonly totalM: Limits;
  readonly climbM: Limits;
  readonly on: CourseRules["on"];
  readonly backstops: boolean;
  readonly oddsAtLeast: number | null;
  readonly count: number;
  readonly seed: number;
  readonly start: CourseStart;
  /** As it is written; of the start "place". */
  readonly place: string;
}

type OfLevel = Pick<CourseChoices, "level" | "legM" | "on" | "backstops" | "oddsAtLeast">;
const ofLevel = (level: CourseLevel): OfLevel => {
  const { legM, on, backstops, oddsAtLeast } = LEVEL_RULES[level];
  return { level, legM, on, backstops, oddsAtLeast };
};

export const courseChoices = signal<CourseChoices>({
  kind: "round",
  points: 3,
  ...ofLevel("middling"),
  totalM: [null, null],
  climbM: [null, null],
  count: 1,
  seed: 1,
  start: "view",
  place: "",
});
export const chooseCourse = (change: Partial<CourseChoices>): void => {
  courseChoices.value = { ...courseChoices.value, ...change };
};
/** Its rules take the place of those changed by hand. */
export const chooseLevel = (level: CourseLevel): void => chooseCourse(ofLevel(level));

/** The most a course can be asked for, metres. */
export const MOST_TOTAL_M = 200_000;
export const MOST_CLIMB_M = 20_000;

const rangeOf = ([least, most]: Limits, from: number, to: number): Range | null =>
  least === null && most === null ? null : [least ?? from, most ?? to];

/** @throws Fault "bad-argument" where no start is written, or it cannot be read */
export function wishNow(): CourseWish {
  const { kind, points, seed, level, legM, totalM, climbM, on, backstops, oddsAtLeast } =
    courseChoices.peek();
  return {
    ...LEVEL_RULES[level],
    kind,
    points,
    seed,
    legM,
    on,
    backstops,
    oddsAtLeast,
    totalM: rangeOf(totalM, 30, MOST_TOTAL_M),
    climbM: rangeOf(climbM, 0, MOST_CLIMB_M),
    start: startNow(),
  };
}

function startNow(): LonLat {
  const { start, place } = courseChoices.peek();
  const first = walk.peek().points[0];
  if (start === "walk" && first) return first.lonLat;
  if (start === "place") {
    const read = readPlace(place);
    if (read) return read.lonLat;
    throw new Fault("bad-argument", courseWords.noPlace);
  }
  const middle = mapView.peek()?.getCenter().wrap();
  return middle ? [middle.lng, middle.lat] : [0, 0];
}
