/** Courses by many seeds, every rule checked by code that shares nothing with what sets them. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import {
  COURSE_KINDS,
  COURSE_LEVELS,
  type Course,
  type CourseWish,
  LEVEL_RULES,
} from "../../../core/course/course.ts";
import { areEqual, equalCourses, haveCommonLeg } from "../../../core/course/equal-courses.ts";
import { makeCourse, remakePoint } from "../../../core/course/make-course.ts";
import { checkCourse } from "../../../core/course/check-course.ts";
import { courseOfWalk, walkOfCourse } from "../../../core/course/course-walk.ts";
import { Fault } from "../../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../core/legs/advice/advice-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { movePoint } from "../../../core/walk/edits.ts";
import { formatWalk, parseWalk } from "../../../core/walk/walk-file.ts";
import { brokenRules } from "./course-checks.ts";
import { RawMap, type Xy } from "./raw-map.ts";

const BASE = resolve(import.meta.dirname, "../../../sample-maps/uldermoor");
const SETTINGS = { legs: { ...DEFAULT_LEG_SETTINGS, date: "2026-06-01" }, advice: DEFAULT_ADVICE_SETTINGS };
/** `LEGWRIGHT_SEEDS=1000` for the long run by hand. */
const SEEDS = Number(process.env["LEGWRIGHT_SEEDS"] ?? 24);

let ground: Ground;
let raw: RawMap;

const source = (path: string) => {
  const bytes = readFileSync(path);
  return {
    key: path,
    sizeBytes: bytes.length,
    read: async (from: number, length: number) => new Uint8Array(bytes.subarray(from, from + length)),
  };
};

beforeAll(async () => {
  ground = await openGround(source(`${BASE}.pmtiles`), source(`${BASE}.terrain.pmtiles`));
  raw = await RawMap.open(BASE);
});

/** Starts spread over the middle of the map, by the golden ratio and its like. */
function wishOf(seed: number): CourseWish {
  const [west, south, east, north] = raw.bounds;
  const level = COURSE_LEVELS[seed % 3] as (typeof COURSE_LEVELS)[number];
  return {
    ...LEVEL_RULES[level],
    kind: COURSE_KINDS[Math.floor(seed / 3) % 4] as (typeof COURSE_KINDS)[number],
    start: [
      west + (0.2 + 0.6 * ((seed * 0.6180339887) % 1)) * (east - west),
      south + (0.2 + 0.6 * ((seed * 0.7548776662) % 1)) * (north - south),
    ],
    points: 3 + (seed % 4),
    seed,
  };
}

const checked = ({ wish, points, legs }: Course) =>
  brokenRules(
    {
      ...wish,
      points: points.map(({ lonLat }): Xy => [lonLat[0], lonLat[1]]),
      legs: legs.map(({ from, to }) => [from, to] as const),
      stops: legs.map(({ figures }) => figures.backstop?.kind ?? null),
    },
    raw,
  );

describe("courses on the demo map", () => {
  test(`of ${SEEDS} seeds keep every rule, or say which cannot be met`, async () => {
    let set = 0;
    const broken: string[] = [];
    for (let seed = 1; seed <= SEEDS; seed++) {
      const wish = wishOf(seed);
      try {
        const course = await makeCourse(wish, ground, SETTINGS);
        set++;
        expect(course.points).toHaveLength(wish.points + 1);
        for (const { odds } of course.legs)
          if (wish.oddsAtLeast !== null) expect(odds?.find ?? 0).toBeGreaterThanOrEqual(wish.oddsAtLeast);
        broken.push(...checked(course).map((what) => `seed ${seed} (${wish.kind}): ${what}`));
      } catch (thrown) {
        const fault = Fault.from(thrown);
        expect(fault.code, `${seed}: ${fault.message}`).toBe("no-course");
        expect(fault.what).toMatch(/this one stood in the way most: .+\.$/);
        expect(fault.remedy).not.toBeNull();
      }
    }
    expect(broken).toEqual([]);
    // Rules are strict and starts fall anywhere, in the lake too; still most can be set.
    expect(set).toBeGreaterThan(0.55 * SEEDS);
  }, 3_600_000);

  test("are the same by the same seed, and others by another", async () => {
    const wish = { ...wishOf(4), kind: "line" as const };
    const [a, b, c] = await Promise.all(
      [wish, wish, { ...wish, seed: wish.seed + 1 }].map((one) => makeCourse(one, ground, SETTINGS)),
    );
    expect(a?.points).toEqual(b?.points);
    expect(a?.points).not.toEqual(c?.points);
  });

  test("for several groups are equally hard and share no leg", async () => {
    const courses = await equalCourses({ ...wishOf(5), kind: "line" }, 4, {
      make: (wish) => makeCourse(wish, ground, SETTINGS),
    });
    expect(courses).toHaveLength(4);
    courses.forEach((one, i) => {
      expect(checked(one)).toEqual([]);
      for (const other of courses.slice(i + 1)) {
        expect(areEqual(one.difficulty, other.difficulty)).toBe(true);
        expect(haveCommonLeg(one, other)).toBe(false);
      }
    });
  }, 60_000);

  test("keep totals that are asked for", async () => {
    const wish: CourseWish = {
      ...wishOf(5),
      kind: "line",
      points: 5,
      totalM: [2900, 3100],
      climbM: [0, 260],
    };
    const course = await makeCourse(wish, ground, SETTINGS);
    expect(course.distanceM).toBeGreaterThanOrEqual(2900);
    expect(course.distanceM).toBeLessThanOrEqual(3100);
    expect(course.climbM).toBeLessThanOrEqual(260);
    expect(checked(course)).toEqual([]);
  });

  test("say which rule cannot be met", async () => {
    const fails = (wish: CourseWish) =>
      makeCourse(wish, ground, SETTINGS).then(
        () => "set",
        (thrown: unknown) => Fault.from(thrown).message,
      );
    const [west, south] = raw.bounds;
    expect(await fails({ ...wishOf(5), start: [west - 0.5, south] })).toMatch(
      /every leg on the map and its heights/,
    );
    expect(await fails({ ...wishOf(5), kind: "line", on: "found", start: [west - 0.5, south] })).toMatch(
      /enough places/,
    );
    expect(await fails({ ...wishOf(5), kind: "line", oddsAtLeast: 0.999 })).toMatch(
      /100 of 100 find every point/,
    );
    expect(await fails({ ...wishOf(5), kind: "line", climbM: [5000, 6000] })).toMatch(
      /a climb of 5000 m to 6000 m/,
    );
    expect(await fails({ ...wishOf(5), kind: "line", points: 3, totalM: [9000, 9500] })).toMatch(
      /cannot be made of them/,
    );
  }, 60_000);
});

describe("a course as a walk", () => {
  test("is checked again after a point was moved by hand, also from its file", async () => {
    const course = await makeCourse({ ...wishOf(5), kind: "star", on: "bare" }, ground, SETTINGS);
    const walk = walkOfCourse(course, "2026-06-01", "Groups A to C");
    expect(walk.points).toHaveLength(1 + 2 * course.wish.points);
    const again = parseWalk(formatWalk(walk), "course.walk.geojson", "2026-06-01").walk;
    const asked = courseOfWalk(again);
    if (!asked) throw new Error("the walk has lost its course");
    // A file has nine figures of a degree, a tenth of a millimetre.
    const { start, ...rules } = asked.wish;
    const { start: _start, ...wished } = course.wish;
    expect(rules).toEqual(wished);
    start.forEach((degrees, i) => expect(degrees).toBeCloseTo(course.wish.start[i as 0 | 1], 8));
    const kept = await checkCourse(asked.wish, asked.points, ground, SETTINGS);
    expect(kept.broken).toEqual([]);
    // Onto the point beside it.
    const [, second, , fourth] = again.points;
    if (!second || !fourth) throw new Error("too few points");
    const moved = courseOfWalk(movePoint(again, second.id, fourth.lonLat));
    const now = await checkCourse(course.wish, moved?.points ?? [], ground, SETTINGS);
    expect(now.broken.map(({ rule }) => rule)).toContain("apart");
    expect(now.broken.find(({ rule }) => rule === "apart")?.words).toBe(
      "Points 1 and 2 break a rule: points 100 m apart.",
    );
  });

  test("no longer comes back to its start: that is said", async () => {
    const course = await makeCourse({ ...wishOf(5), kind: "round" }, ground, SETTINGS);
    const walk = walkOfCourse(course, "2026-06-01", "Round");
    const [first] = walk.points;
    expect(() => courseOfWalk({ ...walk, points: walk.points.slice(0, -1) })).toThrow(
      /no longer ends where it starts/,
    );
    expect(first?.name).toBe("Start");
  });
});

test("one point is set anew, all else stays", async () => {
  const course = await makeCourse({ ...wishOf(5), kind: "line" }, ground, SETTINGS);
  const other = await remakePoint(course, 2, 77, ground, SETTINGS);
  expect(other.points.map(({ lonLat }, i) => lonLat.join() === course.points[i]?.lonLat.join())).toEqual(
    course.points.map((_, i) => i !== 2),
  );
  expect(checked(other)).toEqual([]);
});
