/** Which rules a course breaks after it was changed by hand. */
import { inverse } from "../geodesy/geodesic.ts";
import type { Ground } from "../terrain/ground.ts";
import { type Course, type CourseLeg, type CoursePoint, type CourseWish, legsOf } from "./course.ts";
import { brokenByTotals } from "./course-search.ts";
import { brokenWords, type Rule } from "./course-words.ts";
import { type CourseSettings, LegJudge } from "./leg-judge.ts";
import { checkWish, courseOf } from "./make-course.ts";

export interface BrokenRule {
  readonly rule: Rule;
  /** Place of the leg in the course, from 1; null where it is not a leg's. */
  readonly leg: number | null;
  /** A sentence. */
  readonly words: string;
}

export interface CheckedCourse {
  /** With the figures as they are now; rules asked of it that are broken do not change them. */
  readonly course: Course;
  /** In order of walking; none when every rule is kept. */
  readonly broken: readonly BrokenRule[];
}

/**
 * A course of points set by hand, with its figures and the rules it breaks.
 * @param points the start first
 * @throws Fault "bad-argument" for a wish that cannot be, or another number of points than it asks for
 */
export async function checkCourse(
  wish: CourseWish,
  points: readonly CoursePoint[],
  ground: Ground,
  settings: CourseSettings,
  signal?: AbortSignal,
): Promise<CheckedCourse> {
  const asked = { ...wish, start: (points[0] as CoursePoint).lonLat, points: points.length - 1 };
  checkWish(asked);
  const judge = new LegJudge(ground, asked, settings, signal);
  const legs: CourseLeg[] = [];
  const broken: BrokenRule[] = [];
  for (const [i, [from, to]] of legsOf(asked.kind, asked.points).entries()) {
    const [a, b] = [points[from], points[to]] as [CoursePoint, CoursePoint];
    const { broken: rule, figures, odds } = await judge.look(a.lonLat, b.lonLat, to !== 0);
    const all = odds && (await judge.allOdds(figures, odds));
    legs.push({ from, to, figures: { ...figures, n: i + 1 }, odds: all });
    if (rule) broken.push({ rule, leg: i + 1, words: brokenWords(rule, asked, i + 1) });
  }
  for (const [i, a] of points.entries())
    for (const b of points.slice(i + 1))
      if (inverse(a.lonLat, b.lonLat).distanceM < asked.apartM) {
        const k = points.indexOf(b);
        broken.push({ rule: "apart", leg: null, words: brokenWords("apart", asked, null, [i, k]) });
      }
  const total = brokenByTotals(legs, asked);
  if (total) broken.push({ rule: total, leg: null, words: brokenWords(total, asked, null) });
  return { course: courseOf(asked, points, legs), broken };
}
