/** Sets practice courses: one, several that are equally hard, or one point anew. */
import { Fault } from "../fault.ts";
import { direct, inverse } from "../geodesy/geodesic.ts";
import type { Ground } from "../terrain/ground.ts";
import { trueBearing } from "../units/angle.ts";
import { checkLonLat } from "../units/position.ts";
import {
  type Course,
  type CourseLeg,
  type CoursePoint,
  type CourseWish,
  type Difficulty,
  legsOf,
  type Range,
} from "./course.ts";
import { noCourse } from "./course-words.ts";
import { type Chance, chanceOf } from "./course-random.ts";
import {
  brokenByTotals,
  isApart,
  judgedLeg,
  searchCourse,
  sumOrNull,
  withAllWalkers,
} from "./course-search.ts";
import { type CourseSettings, LegJudge } from "./leg-judge.ts";
import { bare } from "./next-points.ts";
import { PlacesAround } from "./places-around.ts";

const MOST_POINTS = 30;

/** @throws Fault "bad-argument" for a wish that cannot be granted anywhere */
export function checkWish(wish: CourseWish): void {
  const { kind, start, points, seed, legM, totalM, climbM, oddsAtLeast, apartM } = wish;
  checkLonLat(start, "the start");
  const bad = (what: string, remedy: string): Fault => new Fault("bad-argument", what, null, remedy);
  const least = kind === "round" ? 2 : 1;
  if (!Number.isInteger(points) || points < least || points > MOST_POINTS)
    throw bad(
      `A course of this kind has ${least} to ${MOST_POINTS} points, not ${points}.`,
      "Change the number of points.",
    );
  if (!Number.isSafeInteger(seed)) throw bad("A seed is a whole number.", "Leave out the fraction.");
  const range = (what: string, [low, high]: Range, from: number, to: number): void => {
    if (!(low >= from && high <= to && low <= high))
      throw bad(
        `${what} must lie between ${from} m and ${to} m, the least first, not ${low} m to ${high} m.`,
        "Correct them.",
      );
  };
  range("Lengths of legs", legM, 30, 5000);
  if (totalM) range("The length of the course", totalM, 30, 200_000);
  if (climbM) range("The climb of the course", climbM, 0, 20_000);
  const legs = legsOf(kind, points).length;
  if (totalM && (totalM[0] > legs * legM[1] || totalM[1] < legs * legM[0]))
    throw bad(
      `${legs} legs of ${legM[0]} m to ${legM[1]} m are ${legs * legM[0]} m to ${legs * legM[1]} m together: a course of ${totalM[0]} m to ${totalM[1]} m cannot be made of them.`,
      "Change the number of points, the lengths of the legs or the total.",
    );
  if (oddsAtLeast !== null && !(oddsAtLeast >= 0 && oddsAtLeast < 1))
    throw bad(`Odds lie between 0 and 1, not ${oddsAtLeast}.`, "Correct them.");
  if (!(apartM >= 0 && apartM <= 5000))
    throw bad(`Points may be asked to lie 0 m to 5000 m apart, not ${apartM} m.`, "Correct it.");
}

/**
 * One course. The same wish on the same map and settings gives the same course.
 * @throws Fault "bad-argument" for a wish that cannot be granted anywhere; "no-course" naming the rule that stands in the way;
 *   "cancelled"
 */
export async function makeCourse(
  wish: CourseWish,
  ground: Ground,
  settings: CourseSettings,
  signal?: AbortSignal,
): Promise<Course> {
  checkWish(wish);
  const around = new PlacesAround(ground, wish.start, signal);
  const judge = new LegJudge(ground, wish, settings, signal);
  const start = await startPoint(wish, around);
  const { found, tally } = await searchCourse(wish, start, around, judge, chanceOf(wish.seed));
  if (!found) throw noCourse(wish, judge.tally, tally);
  return courseOf(wish, found.points, found.legs);
}

/** So near a place the start is called by it, metres. */
const AT_M = 15;

async function startPoint({ start }: CourseWish, around: PlacesAround): Promise<CoursePoint> {
  const [at] = await around.near(start, AT_M);
  return { lonLat: start, kind: at?.kind ?? null, name: at?.name ?? null, words: at?.words ?? "the start" };
}

export function courseOf(
  wish: CourseWish,
  points: readonly CoursePoint[],
  legs: readonly CourseLeg[],
): Course {
  const figures = legs.map((leg) => leg.figures);
  const distanceM = figures.reduce((sum, leg) => sum + leg.distanceM, 0);
  const climbM = sumOrNull(figures.map((leg) => leg.climbM));
  return {
    wish,
    points,
    legs,
    distanceM,
    climbM,
    descentM: sumOrNull(figures.map((leg) => leg.descentM)),
    difficulty: difficultyOf(legs, distanceM, climbM),
  };
}

/** Flat metres that tire as much as one of climb: three miles an hour against half an hour for a thousand feet. */
const FLAT_FOR_CLIMB = (3 * 1609.344 * 0.5) / 304.8;

function difficultyOf(legs: readonly CourseLeg[], distanceM: number, climbM: number | null): Difficulty {
  const missed = sumOrNull(legs.map(({ odds }) => (odds ? 1 - odds.find : null)));
  return {
    effortM: distanceM + FLAT_FOR_CLIMB * (climbM ?? 0),
    missedShare: missed === null ? null : missed / legs.length,
  };
}

/** Courses within these of one another are called equally hard: a share of the effort, and a difference of shares missed. No source. */
const SAME_EFFORT = 0.15;
const SAME_MISSED = 0.1;
/** Seeds tried for each course wanted. */
const TRIES = 6;

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

/**
 * Several courses from one start, equally hard by effort and odds, no two of which share a leg.
 * @throws Fault as `makeCourse`; "no-course" also when fewer were found
 */
export async function makeEqualCourses(
  wish: CourseWish,
  count: number,
  ground: Ground,
  settings: CourseSettings,
  { signal, progress }: { readonly signal?: AbortSignal; readonly progress?: (found: number) => void } = {},
): Promise<readonly Course[]> {
  if (!Number.isInteger(count) || count < 1 || count > 20)
    throw new Fault(
      "bad-argument",
      `1 to 20 courses can be set at once, not ${count}.`,
      null,
      "Change the number.",
    );
  const all: Course[] = [];
  let best: Course[] = [];
  let last: Fault | null = null;
  for (let k = 0; k < count * TRIES && best.length < count; k++) {
    try {
      all.push(await makeCourse({ ...wish, seed: wish.seed + k }, ground, settings, signal));
    } catch (thrown) {
      const fault = Fault.from(thrown);
      if (fault.code !== "no-course") throw fault;
      last = fault;
      if (all.length === 0 && k >= TRIES) throw fault;
      continue;
    }
    // Around each course in turn: the first is not always the one that has most like it.
    for (const one of all) {
      const set = [one];
      for (const other of all)
        if (
          set.length < count &&
          set.every(
            (c) => c !== other && areEqual(c.difficulty, other.difficulty) && !haveCommonLeg(c, other),
          )
        )
          set.push(other);
      if (set.length > best.length) best = set;
    }
    progress?.(best.length);
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

/**
 * The course with one point moved to another place, all else as it was, every rule kept.
 * @param n place in `course.points`; not 0, the start
 * @throws Fault "bad-argument" when there is no such point; "no-course" when there is no other place for it
 */
export async function remakePoint(
  course: Course,
  n: number,
  seed: number,
  ground: Ground,
  settings: CourseSettings,
  signal?: AbortSignal,
): Promise<Course> {
  const { wish, points, legs } = course;
  const old = points[n];
  if (!old || n === 0) throw new Fault("bad-argument", `There is no point ${n} on this course to be moved.`);
  const around = new PlacesAround(ground, wish.start, signal);
  const judge = new LegJudge(ground, wish, settings, signal);
  const own = legs.filter(({ from, to }) => from === n || to === n);
  const others = points.filter((_, i) => i !== n);
  for (const next of await otherPlaces(wish, old, around, chanceOf(seed))) {
    if (!isApart(others, next, wish.apartM, around) || around.apartM(old.lonLat, next.lonLat) < MOVED_M)
      continue;
    const set = points.map((point, i) => (i === n ? next : point));
    const fresh: CourseLeg[] = [];
    for (const { from, to, figures } of own) {
      const leg = await judgedLeg(set, from, to, judge);
      if (!leg) break;
      fresh.push({ ...leg, figures: { ...leg.figures, n: figures.n } });
    }
    if (fresh.length < own.length) continue;
    const now = legs.map((leg) => fresh.find(({ from, to }) => from === leg.from && to === leg.to) ?? leg);
    const sure = brokenByTotals(now, wish) === null ? await withAllWalkers(now, wish, judge) : null;
    if (sure) return courseOf(wish, set, sure);
  }
  throw noCourse(wish, judge.tally, new Map([["places", 1]]));
}

/** A point moved by less is the same one. */
const MOVED_M = 30;
/** Places tried for a point anew. */
const OTHERS = 60;

async function otherPlaces(
  { on, legM }: CourseWish,
  { lonLat }: CoursePoint,
  around: PlacesAround,
  chance: Chance,
): Promise<readonly CoursePoint[]> {
  const withinM = legM[1];
  if (on === "found") return chance.shuffled(await around.near(lonLat, withinM)).slice(0, OTHERS);
  return Array.from({ length: OTHERS }, () =>
    bare(direct(lonLat, trueBearing(chance.between(0, 360)), withinM * Math.sqrt(chance.next()))),
  );
}
