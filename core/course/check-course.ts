/** Which rules a course keeps and which it breaks after it was changed by hand. */
import { inverse } from "../geodesy/geodesic.ts";
import type { Ground } from "../terrain/ground.ts";
import { type Course, type CourseLeg, type CoursePoint, type CourseWish, legsOf } from "./course.ts";
import { brokenTotals } from "./course-search.ts";
import { brokenWords } from "./course-words.ts";
import { type CourseSettings, LegJudge } from "./leg-judge.ts";
import { checkWish, courseOf } from "./make-course.ts";
import { type BrokenRule, type Verdict, verdictsOf } from "./verdicts.ts";

export interface CheckedCourse {
  /** With the figures as they are now; rules asked of it that are broken do not change them. */
  readonly course: Course;
  /** In order of walking; none when every rule is kept. */
  readonly broken: readonly BrokenRule[];
  /** Of every rule that was asked for, kept or not. */
  readonly verdicts: readonly Verdict[];
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
    const { broken: rules, figures, odds } = await judge.lookAtAll(a.lonLat, b.lonLat, to !== 0);
    legs.push({ from, to, figures: { ...figures, n: i + 1 }, odds });
    for (const rule of rules) broken.push({ rule, leg: i + 1, words: brokenWords(rule, asked, i + 1) });
  }
  for (const [i, a] of points.entries())
    for (const b of points.slice(i + 1))
      if (inverse(a.lonLat, b.lonLat).distanceM < asked.apartM) {
        const k = points.indexOf(b);
        broken.push({ rule: "apart", leg: null, words: brokenWords("apart", asked, null, [i, k]) });
      }
  for (const rule of brokenTotals(legs, asked))
    broken.push({ rule, leg: null, words: brokenWords(rule, asked, null) });
  return { course: courseOf(asked, points, legs), broken, verdicts: verdictsOf(asked, broken) };
}
