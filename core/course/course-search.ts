/** The search for the points of a course: place by place, legs judged, until one set keeps every rule. */
import { type CourseLeg, type CoursePoint, type CourseWish, legsOf } from "./course.ts";
import type { Chance } from "./course-random.ts";
import type { LegJudge } from "./leg-judge.ts";
import { nextPoints } from "./next-points.ts";
import type { PlacesAround } from "./places-around.ts";

/** Legs are judged up to this many; then the rules cannot be met, or hardly. Keeps a search under two seconds. */
const MOST_JUDGED = 120;
/** From the start anew after so many legs judged: a bad first choice is not worth finishing. */
const JUDGED_A_TRY = 40;
const MOST_TRIES = 12;
/** Points tried in one try: where few places lie close together, many sets could be gone through without judging a leg. */
const POINTS_A_TRY = 250;

/** The plane around the start may be off by as much, metres. */
const ROUNDING_M = 0.1;

/** What a course as a whole can break, besides its legs. */
export type CourseRule = "places" | "apart" | "total" | "climb";

export interface Found {
  readonly points: readonly CoursePoint[];
  readonly legs: readonly CourseLeg[];
}

export interface Searched {
  readonly found: Found | null;
  /** How often each rule of the whole stood in the way. */
  readonly tally: ReadonlyMap<CourseRule, number>;
}

/** @param start the first point, given */
export async function searchCourse(
  wish: CourseWish,
  start: CoursePoint,
  around: PlacesAround,
  judge: LegJudge,
  chance: Chance,
): Promise<Searched> {
  const tally = new Map<CourseRule, number>();
  const count = (rule: CourseRule): void => void tally.set(rule, (tally.get(rule) ?? 0) + 1);
  const order = legsOf(wish.kind, wish.points);
  let [until, left] = [0, 0];

  const extend = async (
    points: readonly CoursePoint[],
    legs: readonly CourseLeg[],
  ): Promise<Found | null> => {
    const n = points.length;
    if (n > wish.points) {
      const [broken] = brokenTotals(legs, wish);
      if (broken) {
        count(broken);
        return null;
      }
      const sure = await withAllWalkers(legs, wish, judge);
      return sure && { points, legs: inOrder(sure, order) };
    }
    const choices = await nextPoints(wish, points, lengthOf(legs), around, chance);
    if (choices.length === 0) count("places");
    for (const next of choices) {
      if (judge.judged >= until || left-- <= 0) return null;
      if (!isApart(points, next, wish.apartM, around)) {
        count("apart");
        continue;
      }
      const set = [...points, next];
      const added = await joined(set, n);
      const found = added && (await extend(set, [...legs, ...added]));
      if (found) return found;
    }
    return null;
  };

  /** The legs that are complete with point `n`: those between it and earlier ones, the way home too; null when one breaks a rule. */
  const joined = async (points: readonly CoursePoint[], n: number): Promise<CourseLeg[] | null> => {
    const legs: CourseLeg[] = [];
    for (const [from, to] of order.filter((ends) => Math.max(...ends) === n)) {
      const leg = await judgedLeg(points, from, to, judge);
      if (!leg) return null;
      legs.push(leg);
    }
    return legs;
  };

  for (let n = 0; n < MOST_TRIES && judge.judged < MOST_JUDGED; n++) {
    until = Math.min(MOST_JUDGED, judge.judged + JUDGED_A_TRY);
    left = POINTS_A_TRY;
    const found = await extend([start], []);
    if (found) return { found, tally };
  }
  return { found: null, tally };
}

/**
 * The legs with the odds of all walkers: while searching, few of them settled most legs. Null in the rare case that one leg's
 * odds do not hold after all. Their ground is asked for again: a long search may have let go of it.
 */
export async function withAllWalkers(
  legs: readonly CourseLeg[],
  { oddsAtLeast }: Pick<CourseWish, "oddsAtLeast">,
  judge: LegJudge,
): Promise<CourseLeg[] | null> {
  if (oddsAtLeast === null) return [...legs];
  const sure: CourseLeg[] = [];
  for (const leg of legs) {
    const odds = leg.odds && (await judge.allOdds(leg.figures, leg.odds));
    if (!odds || odds.find < oddsAtLeast) return null;
    sure.push({ ...leg, odds });
  }
  return sure;
}

/** A leg that keeps the rules of its own; null when it breaks one. */
export async function judgedLeg(
  points: readonly CoursePoint[],
  from: number,
  to: number,
  judge: LegJudge,
): Promise<CourseLeg | null> {
  const [a, b] = [points[from], points[to]] as [CoursePoint, CoursePoint];
  const { broken, figures, odds } = await judge.judge(a.lonLat, b.lonLat, to !== 0);
  return broken === null && figures ? { from, to, figures, odds } : null;
}

export const isApart = (
  points: readonly CoursePoint[],
  next: CoursePoint,
  apartM: number,
  around: PlacesAround,
): boolean => points.every(({ lonLat }) => around.apartM(lonLat, next.lonLat) >= apartM + ROUNDING_M);

const lengthOf = (legs: readonly Pick<CourseLeg, "figures">[]): number =>
  legs.reduce((sum, { figures }) => sum + figures.distanceM, 0);

/** The limits on all legs together that are not kept. A climb that is not known keeps none. */
export function brokenTotals(
  legs: readonly Pick<CourseLeg, "figures">[],
  { totalM, climbM }: Pick<CourseWish, "totalM" | "climbM">,
): readonly ("total" | "climb")[] {
  const distanceM = lengthOf(legs);
  const climb = sumOrNull(legs.map(({ figures }) => figures.climbM));
  return [
    ...(totalM && (distanceM < totalM[0] || distanceM > totalM[1]) ? (["total"] as const) : []),
    ...(climbM && (climb === null || climb < climbM[0] || climb > climbM[1]) ? (["climb"] as const) : []),
  ];
}

export const sumOrNull = (figures: readonly (number | null)[]): number | null =>
  figures.reduce<number | null>((sum, one) => (sum === null || one === null ? null : sum + one), 0);

/** As they are walked, and numbered so. */
const inOrder = (legs: readonly CourseLeg[], order: ReturnType<typeof legsOf>): CourseLeg[] =>
  order.map(([from, to], i) => {
    const leg = legs.find((one) => one.from === from && one.to === to) as CourseLeg;
    return { ...leg, figures: { ...leg.figures, n: i + 1 } };
  });
