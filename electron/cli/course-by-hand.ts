/** `course-check`: the rules of a course after it was changed by hand. `course-again`: one leg of it anew. */
import { basename } from "node:path";
import { type CheckedCourse, checkCourse } from "../../core/course/check-course.ts";
import { courseOfWalk, walkOfCourse } from "../../core/course/course-walk.ts";
import type { CourseSettings } from "../../core/course/leg-judge.ts";
import { remakePoint } from "../../core/course/make-course.ts";
import { Fault } from "../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../core/legs/advice/advice-settings.ts";
import { legSettingsOf } from "../../core/legs/leg-settings.ts";
import type { Ground } from "../../core/terrain/ground.ts";
import { formatWalk, parseWalk } from "../../core/walk/walk-file.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { legRow, summary, toldOf } from "./course-told.ts";
import { numberOf } from "./fix-read.ts";
import { openGroundAt } from "./map-files.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { readInputText } from "./read-input.ts";
import { row } from "./rows.ts";

export interface CourseCheckOptions {
  readonly map: string;
  readonly format?: "text" | "json";
}

export interface CourseAgainOptions {
  readonly map: string;
  readonly leg: string;
  readonly seed?: string;
  readonly out?: string;
}

interface ReadCourse extends CheckedCourse {
  readonly walk: Walk;
  readonly ground: Ground;
  readonly settings: CourseSettings;
}

const today = (): string => new Date().toISOString().slice(0, 10);

async function readCourse(walkPath: string, map: string): Promise<ReadCourse> {
  const { walk } = parseWalk(await readInputText(walkPath), basename(walkPath), today());
  const asked = courseOfWalk(walk);
  if (!asked)
    throw new Fault(
      "bad-argument",
      "This walk was not set as a course: there are no rules to check.",
      basename(walkPath),
      "Set one with the command course.",
    );
  const settings: CourseSettings = { legs: legSettingsOf(walk), advice: DEFAULT_ADVICE_SETTINGS };
  const ground = await openGroundAt(map);
  return { walk, ground, settings, ...(await checkCourse(asked.wish, asked.points, ground, settings)) };
}

/** `course-check WALK`: which rules a course keeps and which it breaks as it is now. */
export async function courseCheck(walkPath: string, { map, format }: CourseCheckOptions): Promise<void> {
  const { walk, course, broken, verdicts } = await readCourse(walkPath, map);
  if (format === "json")
    return await deliver(
      `${JSON.stringify({ course: toldOf(course), broken, verdicts }, null, 2)}\n`,
      undefined,
    );
  const rows = [
    row("Course", `${walk.title}: ${summary(course)}`),
    ...course.legs.map((_, n) => legRow(course, n)),
    ...verdicts.filter((one) => one.broken.length === 0).map(({ words }) => row("Kept", words)),
    ...(broken.length > 0
      ? broken.map(({ words }) => row("Broken", words))
      : [row("Rules", "All are kept.")]),
  ];
  await deliver(rows.map((line) => `${line}\n`).join(""), undefined);
}

/** `course-again WALK`: the course with the end of one leg at another place, all else as it was. */
export async function courseAgain(walkPath: string, options: CourseAgainOptions): Promise<void> {
  if (options.out !== undefined) await checkFolderOf(options.out);
  const leg = numberOf(options.leg, 0, "--leg");
  const seed = numberOf(options.seed, 1, "--seed");
  const { walk, course, ground, settings } = await readCourse(walkPath, options.map);
  const ends = course.legs[leg - 1];
  if (!ends)
    throw new Fault(
      "bad-argument",
      `There is no leg ${leg} on this course.`,
      "--leg",
      `It has ${course.legs.length}.`,
    );
  // On the way home the place it comes from is what can be moved.
  const other = await remakePoint(course, ends.to || ends.from, seed, ground, settings);
  const again = { ...walkOfCourse(other, walk, walk.title), notes: walk.notes };
  await deliver(formatWalk(again), options.out);
}
