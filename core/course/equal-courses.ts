/** Several courses from one start, equally hard, so that groups do not follow one another. */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import type { Course, CoursePoint, CourseWish, Difficulty } from "./course.ts";

/** Courses within these of one another are called equally hard: a share of the effort, and a difference of shares missed. No source. */
const SAME_EFFORT = 0.15;
const SAME_MISSED = 0.1;
/** Seeds tried for each course wanted. */
const TRIES = 6;
export const MOST_COURSES = 20;

export const areEqual = (a: Difficulty, b: Difficulty): boolean =>
  Math.abs(a.effortM - b.effortM) <= SAME_EFFORT * Math.max(a.effortM, b.effortM) &&
  (a.missedShare === null ||
    b.missedShare === null ||
    Math.abs(a.missedShare - b.missedShare) <= SAME_MISSED);

/** Whether groups on two courses would walk the same way somewhere, or set out for the same place. */
export function haveCommonLeg(a: Course, b: Course): boolean {
  const near = (p: CoursePoint | undefined, q: CoursePoint | undefined): boolean =>
    !!p && !!q && inverse(p.lonLat, q.lonLat).distanceM < a.wish.apartM;
  if (a.wish.kind !== "scatter" && near(a.points[1], b.points[1])) return true;
  return a.legs.some((one) =>
    b.legs.some(
      (other) =>
        (near(a.points[one.from], b.points[other.from]) && near(a.points[one.to], b.points[other.to])) ||
        (near(a.points[one.from], b.points[other.to]) && near(a.points[one.to], b.points[other.from])),
    ),
  );
}

export interface EqualOptions {
  /** Sets one course: `makeCourse` on some ground, here or in a worker. */
  readonly make: (wish: CourseWish) => Promise<Course>;
  /** After each course tried. @param tried of so many at most */
  readonly progress?: (found: number, tried: number, most: number) => void;
}

/**
 * Several courses from one start, equally hard by effort and odds, no two of which share a leg.
 * @throws Fault as `make`; "no-course" also when fewer were found; "bad-argument" for another number than 1 to 20
 */
export async function equalCourses(
  wish: CourseWish,
  count: number,
  { make, progress }: EqualOptions,
): Promise<readonly Course[]> {
  if (!Number.isInteger(count) || count < 1 || count > MOST_COURSES)
    throw new Fault(
      "bad-argument",
      `1 to ${MOST_COURSES} courses can be set at once, not ${count}.`,
      null,
      "Change the number.",
    );
  const all: Course[] = [];
  /** For each course, the earlier ones it goes with. */
  const goWith: Set<Course>[] = [];
  let best: readonly Course[] = [];
  let last: Fault | null = null;
  const most = count * TRIES;
  for (let k = 0; k < most && best.length < count; k++) {
    try {
      const course = await make({ ...wish, seed: wish.seed + k });
      goWith.push(
        new Set(
          all.filter((one) => areEqual(one.difficulty, course.difficulty) && !haveCommonLeg(one, course)),
        ),
      );
      all.push(course);
      best = largestSet(all, goWith, count);
    } catch (thrown) {
      const fault = Fault.from(thrown);
      if (fault.code !== "no-course") throw fault;
      last = fault;
      if (all.length === 0 && k >= TRIES) throw fault;
    }
    progress?.(best.length, k + 1, most);
  }
  if (best.length >= count) return best;
  if (all.length === 0 && last) throw last;
  throw new Fault(
    "no-course",
    `Only ${best.length} of ${count} equally hard courses without a common leg were found.`,
    `${all.length} courses tried`,
    "Ask for fewer, or allow longer legs so that there are more places to choose from.",
  );
}

/** Around each course in turn: the first is not always the one that has most like it. */
function largestSet(
  all: readonly Course[],
  goWith: readonly ReadonlySet<Course>[],
  count: number,
): readonly Course[] {
  const go = (i: number, j: number): boolean =>
    i !== j && (goWith[Math.max(i, j)]?.has(all[Math.min(i, j)] as Course) ?? false);
  let best: number[] = [];
  for (const first of all.keys()) {
    const set = [first];
    for (const other of all.keys())
      if (set.length < count && set.every((one) => go(one, other))) set.push(other);
    if (set.length > best.length) best = set;
  }
  return best.map((i) => all[i] as Course);
}
