/** The slip for practice courses: what was set, and whether the walk still keeps the rules it was set by. */
import { effect, signal } from "@preact/signals";
import type { CheckedCourse } from "../../core/course/check-course.ts";
import type { Course } from "../../core/course/course.ts";
import { courseOfWalk, walkOfCourse } from "../../core/course/course-walk.ts";
import { equalCourses } from "../../core/course/equal-courses.ts";
import type { CourseSettings } from "../../core/course/leg-judge.ts";
import { Fault } from "../../core/fault.ts";
import { adviceSettings } from "../advice/advice-state.ts";
import { askAdvice } from "../analysis/advice-worker.ts";
import { newestWins } from "../analysis/newest-wins.ts";
import { picking } from "../fix/fix-state.ts";
import { showFound } from "../fix/show-found.ts";
import { openMap } from "../map-case/map-case.ts";
import { legSettings } from "../walk-state/figures.ts";
import { edit, walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";
import { courseChoices, wishNow } from "./course-choices.ts";

export const courseOpen = signal(false);

export interface Searching {
  readonly kind: "making";
  readonly found: number;
  readonly wanted: number;
  readonly tried: number;
}
export type Courses =
  | { readonly kind: "none" }
  | Searching
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
/** What stood there before a search; it comes back when the search is given up. */
let before: Courses = { kind: "none" };

export function cancelCourse(): void {
  stop?.abort();
  if (courses.peek().kind === "making") courses.value = before;
}

export function closeCourse(): void {
  cancelCourse();
  picking.value = null;
  courseOpen.value = false;
}

type Told = (found: number, tried: number) => void;

async function run(
  wanted: number,
  work: (signal: AbortSignal, told: Told) => Promise<readonly Course[]>,
  shown: number,
): Promise<void> {
  cancelCourse();
  const mine = (stop = new AbortController());
  before = courses.peek();
  courses.value = { kind: "making", found: 0, wanted, tried: 0 };
  courseSaid.value = null;
  try {
    const all = await work(mine.signal, (found, tried) => {
      if (!mine.signal.aborted) courses.value = { kind: "making", found, wanted, tried };
    });
    if (mine.signal.aborted) return;
    courses.value = { kind: "ready", all };
    shownCourse.value = Math.min(shown, all.length - 1);
    showFound(all[shownCourse.peek()]?.points.map(({ lonLat }) => lonLat) ?? []);
  } catch (thrown) {
    if (!mine.signal.aborted) courses.value = { kind: "failed", fault: Fault.from(thrown) };
  }
}

export function makeCourses(): void {
  const [map, { count }] = [openMap.peek(), courseChoices.peek()];
  picking.value = null;
  void run(
    count,
    async (signal, told) => {
      if (!map) throw new Fault("unavailable", courseWords.noMap);
      const settings = settingsNow();
      // Course by course, so that one hears how far it is, and other questions come between.
      return equalCourses(wishNow(), count, {
        make: (wish) => askAdvice(map, "setCourse", [wish, settings], signal),
        progress: told,
      });
    },
    0,
  );
}

/** All else stays as it was. */
export function anotherPlace(n: number): void {
  const [map, now, at] = [openMap.peek(), courses.peek(), shownCourse.peek()];
  const course = now.kind === "ready" ? now.all[at] : undefined;
  if (!map || now.kind !== "ready" || !course) return;
  const seed = Math.floor(Math.random() * 1e6);
  void run(
    1,
    async (signal) => {
      const other = await askAdvice(map, "remakePoint", [course, n, seed, settingsNow()], signal);
      return now.all.map((one, i) => (i === at ? other : one));
    },
    at,
  );
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
