/** The slip for practice courses: what is asked for, what was set, and whether the walk still keeps the rules it was set by. */
import { effect, signal } from "@preact/signals";
import type { CheckedCourse } from "../../core/course/check-course.ts";
import {
  type Course,
  type CourseKind,
  type CourseLevel,
  LEVEL_RULES,
  type Range,
} from "../../core/course/course.ts";
import { courseOfWalk, walkOfCourse } from "../../core/course/course-walk.ts";
import type { CourseSettings } from "../../core/course/leg-judge.ts";
import { Fault } from "../../core/fault.ts";
import type { LonLat } from "../../core/units/position.ts";
import { adviceSettings } from "../advice/advice-state.ts";
import { askAdvice } from "../analysis/advice-worker.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { showFound } from "../fix/show-found.ts";
import { openMap } from "../map-case/map-case.ts";
import { mapView } from "../map/view-state.ts";
import { legSettings } from "../walk-state/figures.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";

export interface CourseChoices {
  readonly kind: CourseKind;
  readonly level: CourseLevel;
  readonly points: number;
  readonly legM: Range;
  readonly count: number;
  readonly seed: number;
  readonly start: "view" | "walk";
}

export const courseOpen = signal(false);
export const courseChoices = signal<CourseChoices>({
  kind: "round",
  level: "middling",
  points: 3,
  legM: LEVEL_RULES.middling.legM,
  count: 1,
  seed: 1,
  start: "view",
});
export const chooseCourse = (change: Partial<CourseChoices>): void => {
  courseChoices.value = { ...courseChoices.value, ...change };
};

export type Courses =
  | { readonly kind: "none" }
  | { readonly kind: "making" }
  | { readonly kind: "failed"; readonly fault: Fault }
  | { readonly kind: "ready"; readonly all: readonly Course[] };
export const courses = signal<Courses>({ kind: "none" });
/** Which of several is shown, from 0. */
export const shownCourse = signal(0);
export const courseSaid = signal<string | null>(null);
/** The walk's own rules; null where it is no course. */
export const walkChecked = signal<CheckedCourse | Fault | null>(null);

const settingsNow = (): CourseSettings => ({ legs: legSettings.peek(), advice: adviceSettings.peek() });

let stop: AbortController | null = null;

export function cancelCourse(): void {
  stop?.abort();
  if (courses.peek().kind === "making") courses.value = { kind: "none" };
}

async function run(work: (signal: AbortSignal) => Promise<readonly Course[]>): Promise<void> {
  stop?.abort();
  const mine = (stop = new AbortController());
  courses.value = { kind: "making" };
  courseSaid.value = null;
  try {
    const all = await work(mine.signal);
    if (mine.signal.aborted) return;
    courses.value = { kind: "ready", all };
    showFound((all[shownCourse.peek()] ?? all[0])?.points.map(({ lonLat }) => lonLat) ?? []);
  } catch (thrown) {
    if (!mine.signal.aborted) courses.value = { kind: "failed", fault: Fault.from(thrown) };
  }
}

function startOf(where: CourseChoices["start"]): LonLat | null {
  const first = walk.peek().points[0];
  if (where === "walk" && first) return first.lonLat;
  const middle = mapView.peek()?.getCenter();
  return middle ? [middle.lng, middle.lat] : null;
}

export function makeCourses(): void {
  const [map, asked] = [openMap.peek(), courseChoices.peek()];
  const start = startOf(asked.start);
  if (!map || !start) return;
  const { level, count, start: _where, ...rest } = asked;
  shownCourse.value = 0;
  const wish = { ...LEVEL_RULES[level], ...rest, start };
  void run((signal) => askAdvice(map, "setCourses", [wish, count, settingsNow()], signal));
}

/** All else stays as it was. */
export function anotherPlace(n: number): void {
  const [map, now, at] = [openMap.peek(), courses.peek(), shownCourse.peek()];
  const course = now.kind === "ready" ? now.all[at] : undefined;
  if (!map || now.kind !== "ready" || !course) return;
  const seed = Math.floor(Math.random() * 1e6);
  void run(async (signal) => {
    const other = await askAdvice(map, "remakePoint", [course, n, seed, settingsNow()], signal);
    return now.all.map((one, i) => (i === at ? other : one));
  });
}

export function takeCourse(course: Course, name: string): void {
  edit(courseWords.step(name), (now) => walkOfCourse(course, now, name));
  courseSaid.value = courseWords.taken;
}

type Asked = NonNullable<ReturnType<typeof courseOfWalk>>;
const checking = newestWins<Asked, CheckedCourse | null>({
  run: async ({ wish, points }, signal) => {
    const map = openMap.peek();
    return map && (await askAdvice(map, "checkCourse", [wish, points, settingsNow()], signal));
  },
  answered: (found) => (walkChecked.value = found),
  failed: (fault) => (walkChecked.value = fault),
  patienceMs: 0,
});

effect(() => {
  if (!courseOpen.value || !openMap.value) return checking.stop();
  try {
    const asked = courseOfWalk(walk.value);
    if (asked) return checking.ask(asked);
    checking.stop();
    walkChecked.value = null;
  } catch (thrown) {
    checking.stop();
    walkChecked.value = Fault.from(thrown);
  }
});
