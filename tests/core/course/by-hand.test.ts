/** What is said of each rule once a course was changed by hand; a search that is given up; sets for several groups. */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import { checkCourse } from "../../../core/course/check-course.ts";
import { type Course, type CourseWish, LEVEL_RULES } from "../../../core/course/course.ts";
import { equalCourses } from "../../../core/course/equal-courses.ts";
import { makeCourse } from "../../../core/course/make-course.ts";
import { Fault } from "../../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../core/legs/advice/advice-settings.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { metresBetween } from "./raw-map.ts";

const BASE = resolve(import.meta.dirname, "../../../sample-maps/uldermoor");
const SETTINGS = { legs: { ...DEFAULT_LEG_SETTINGS, date: "2026-06-01" }, advice: DEFAULT_ADVICE_SETTINGS };
let ground: Ground;
let wish: CourseWish;

beforeAll(async () => {
  const source = (ending: string) => bytesSource(ending, new Uint8Array(readFileSync(`${BASE}${ending}`)));
  ground = await openGround(source(".pmtiles"), source(".terrain.pmtiles"));
  const [west, south, east, north] = ground.map.info.bounds;
  wish = {
    ...LEVEL_RULES.hard,
    kind: "line",
    start: [west + 0.5 * (east - west), south + 0.6 * (north - south)],
    points: 3,
    seed: 5,
    totalM: [1300, 2900],
    climbM: [0, 500],
    oddsAtLeast: 0.05,
  };
});

describe("a course changed by hand", () => {
  let course: Course;
  beforeAll(async () => {
    course = await makeCourse(wish, ground, SETTINGS);
  });

  test("as it was set keeps every rule that was asked for, each told", async () => {
    const { verdicts, broken } = await checkCourse(wish, course.points, ground, SETTINGS);
    expect(broken).toEqual([]);
    expect(verdicts.map(({ words }) => words)).toEqual([
      "Legs of 400 m to 1000 m",
      "Every leg on the map and its heights",
      "No leg through anything dangerous or closed",
      "Every point on bare ground",
      "At least 5 of 100 find every point",
      "Points 100 m apart",
      "A course of 1300 m to 2900 m",
      "A climb of 0 m to 500 m",
    ]);
  });

  test("every rule that is broken is told, each where it is", async () => {
    // The second point a stone's throw from the first: a leg too short, points too close, and the total may go too.
    const [start, first, , third] = course.points;
    if (!start || !first || !third) throw new Error("too few points");
    const near = { ...first, lonLat: [first.lonLat[0], first.lonLat[1] + 0.0003] as const };
    const asked = { ...wish, totalM: [2950, 3000], climbM: [480, 500] } as const;
    const points = [start, first, near, third];
    const { verdicts } = await checkCourse(asked, points, ground, SETTINGS);
    const of = (rule: string) =>
      verdicts.find((one) => one.rule === rule)?.broken.map(({ words }) => words) ?? [];
    const pairs = [
      [start, first],
      [first, near],
      [near, third],
    ] as const;
    const lengths = pairs.map(([a, b]) =>
      metresBetween([a.lonLat[0], a.lonLat[1]], [b.lonLat[0], b.lonLat[1]]),
    );
    // Recomputed by GeographicLib: which legs are too short or too long, and whether the sum is.
    expect(of("length")).toEqual(
      lengths.flatMap((m, i) =>
        m < 399.5 || m > 1000.5 ? [`Leg ${i + 1} breaks a rule: legs of 400 m to 1000 m.`] : [],
      ),
    );
    expect(of("length")).not.toEqual([]);
    expect(of("apart")).toEqual(["Points 1 and 2 break a rule: points 100 m apart."]);
    const total = lengths.reduce((sum, m) => sum + m, 0);
    expect(of("total")).toEqual(
      total < 2950 ? ["The course breaks a rule: a course of 2950 m to 3000 m."] : [],
    );
    expect(of("climb")).toEqual(["The course breaks a rule: a climb of 480 m to 500 m."]);
  });

  test("two points in one place are told, not failed on", async () => {
    const [start, first, , third] = course.points;
    if (!start || !first || !third) throw new Error("too few points");
    const { broken } = await checkCourse(wish, [start, first, first, third], ground, SETTINGS);
    expect(broken.map(({ rule }) => rule)).toEqual(expect.arrayContaining(["length", "apart"]));
  });
});

test("a search that is given up stops between legs", async () => {
  const stop = new AbortController();
  const search = makeCourse({ ...wish, oddsAtLeast: 0.95 }, ground, SETTINGS, stop.signal).then(
    () => null,
    (thrown: unknown) => Fault.from(thrown).code,
  );
  // Heard of from outside, as a message to a worker is: the search itself lets it in.
  setTimeout(() => stop.abort(), 1);
  expect(await search).toBe("cancelled");
});

describe("several courses", () => {
  test("are told of as they are tried, and come as soon as there are enough", async () => {
    const told: (readonly [number, number, number])[] = [];
    const all = await equalCourses({ ...wish, totalM: null, climbM: null }, 2, {
      make: (one) => makeCourse(one, ground, SETTINGS),
      progress: (...so) => told.push(so),
    });
    expect(all).toHaveLength(2);
    expect(told.at(-1)?.[0]).toBe(2);
    expect(told.map(([, tried]) => tried)).toEqual(told.map((_, i) => i + 1));
    for (const [, tried, most] of told) expect(tried).toBeLessThanOrEqual(most);
  });

  test("give up with what each failed by, and pass on being stopped", async () => {
    const fails = (make: () => Promise<never>) =>
      equalCourses(wish, 2, { make }).then(
        () => "set",
        (thrown: unknown) => Fault.from(thrown),
      );
    let asked = 0;
    const none = await fails(() => {
      asked++;
      return Promise.reject(new Fault("no-course", "None."));
    });
    expect(none).toMatchObject({ code: "no-course", what: "None." });
    expect(asked).toBe(7);
    expect(await fails(() => Promise.reject(new Fault("cancelled", "Stopped.")))).toMatchObject({
      code: "cancelled",
    });
  });
});
