/** `course`: practice courses on a map, as walks and on paper. */
import {
  type CourseKind,
  type CourseLevel,
  type CourseWish,
  LEVEL_RULES,
  type Range,
} from "../../core/course/course.ts";
import { walkOfCourse } from "../../core/course/course-walk.ts";
import type { CourseSettings } from "../../core/course/leg-judge.ts";
import { equalCourses } from "../../core/course/equal-courses.ts";
import { makeCourse } from "../../core/course/make-course.ts";
import { Fault } from "../../core/fault.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../core/legs/advice/advice-settings.ts";
import { CAUTIONS, INVENTED } from "../../core/legs/cautions.ts";
import { DEFAULT_LEG_SETTINGS } from "../../core/legs/leg-settings.ts";
import { parseLength } from "../../core/units/length.ts";
import { setMap } from "../../core/walk/edits.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import { checkDay } from "../../core/walk/walk-rules.ts";
import { coursePages } from "../../core/sheet/course/course-pages.ts";
import { type CoursePrintOptions, pdfOf, printCourse } from "./course-print.ts";
import { legRow, summary, toldOf } from "./course-told.ts";
import { numberOf, placeOf } from "./fix-read.ts";
import { openGroundAt } from "./map-files.ts";
import { checkFolderOf, deliver } from "./product.ts";
import { rangeOf } from "./read-range.ts";
import { row } from "./rows.ts";

export interface CourseOptions extends CoursePrintOptions {
  readonly map: string;
  readonly start: string;
  readonly kind: CourseKind;
  readonly level: CourseLevel;
  readonly points: string;
  readonly leg?: string;
  readonly total?: string;
  readonly climb?: string;
  readonly on?: "found" | "bare";
  /** Absent, true and false: as the level has it, wanted, not wanted. */
  readonly backstops?: boolean;
  readonly odds?: string;
  readonly apart?: string;
  readonly seed?: string;
  readonly count?: string;
  readonly date?: string;
  readonly title?: string;
  readonly give: "legs" | "map";
  readonly format?: "text" | "json" | "walk";
  readonly out?: string;
}

const today = (): string => new Date().toISOString().slice(0, 10);

/** `course`: sets one course, or several that are equally hard. */
export async function course(options: CourseOptions): Promise<void> {
  const wish = wishOf(options);
  const count = numberOf(options.count, 1, "--count");
  const date = checkDay(options.date ?? today(), "--date");
  const format = options.format ?? (options.out === undefined ? "text" : "walk");
  const pdf = pdfOf(options.out);
  if (pdf !== null && options.format !== undefined)
    throw new Fault("bad-argument", "A PDF has no other form.", "--format", "Leave it out.");
  if (format === "walk" && count > 1 && options.out === undefined)
    throw new Fault(
      "bad-argument",
      "Several walks need a file each.",
      null,
      "Name one with --out: they are numbered.",
    );
  if (options.out !== undefined) await checkFolderOf(options.out);
  const ground = await openGroundAt(options.map);
  const { id, title, invented } = ground.map.info;
  const settings: CourseSettings = {
    legs: { ...DEFAULT_LEG_SETTINGS, date },
    advice: DEFAULT_ADVICE_SETTINGS,
  };
  const courses = await equalCourses(wish, count, {
    make: (one) => makeCourse(one, ground, settings),
  });
  const name = (i: number): string =>
    `${options.title ?? "Practice course"}${count > 1 ? ` ${i + 1} of ${count}` : ""}`;
  if (pdf !== null) {
    const named = courses.map((one, i) => ({ name: name(i), course: one, broken: [] }));
    return await printCourse(pdf, options, (look, ruler) =>
      coursePages(
        named,
        { ...look, give: options.give, scale: null, date, graduationDeg: settings.legs.graduationDeg },
        ground,
        ruler,
      ),
    );
  }
  if (format === "walk") {
    for (const [i, one] of courses.entries()) {
      const walk = setMap(walkOfCourse(one, date, name(i)), id);
      await deliver(formatWalk(walk), count > 1 ? numbered(options.out as string, i + 1) : options.out);
    }
    return;
  }
  const cautions = [...(invented ? [INVENTED] : []), ...CAUTIONS];
  if (format === "json") {
    const told = { date, map: { title, invented }, courses: courses.map(toldOf), cautions };
    return await deliver(`${JSON.stringify(told, null, 2)}\n`, options.out);
  }
  const rows = [
    row("Day", date),
    row("Map", title),
    ...courses.flatMap((one, i) => [
      row("", ""),
      row("Course", `${name(i)}: ${summary(one)}`),
      ...one.legs.map((_, n) => legRow(one, n)),
    ]),
    row("", ""),
    ...cautions.map((caution) => row("Caution", caution)),
  ];
  await deliver(rows.map((line) => `${line}\n`).join(""), options.out);
}

function wishOf(options: CourseOptions): CourseWish {
  const rules = LEVEL_RULES[options.level];
  const range = (text: string | undefined, usual: Range | null): Range | null =>
    text === undefined ? usual : rangeOf(text);
  return {
    ...rules,
    kind: options.kind,
    start: placeOf(options.start, null),
    points: numberOf(options.points, 0, "--points"),
    seed: numberOf(options.seed, 1, "--seed"),
    legM: range(options.leg, rules.legM) as Range,
    totalM: range(options.total, rules.totalM),
    climbM: range(options.climb, rules.climbM),
    on: options.on ?? rules.on,
    backstops: options.backstops ?? rules.backstops,
    oddsAtLeast: options.odds === undefined ? rules.oddsAtLeast : numberOf(options.odds, 0, "--odds") / 100,
    apartM: options.apart === undefined ? rules.apartM : parseLength(options.apart),
  };
}

const numbered = (out: string, n: number): string => out.replace(/((?:\.walk)?\.geojson)?$/i, `-${n}$1`);
