/** Sets practice courses: one, or one point of it anew. */
import { Fault } from "../fault.ts";
import { direct } from "../geodesy/geodesic.ts";
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
  brokenTotals,
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
    const sure = brokenTotals(now, wish).length === 0 ? await withAllWalkers(now, wish, judge) : null;
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
