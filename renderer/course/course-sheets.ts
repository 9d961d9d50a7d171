/** Sheets of the courses that were set, or of the walk where it is a course, kept in step with what is chosen. */
import { computed } from "@preact/signals";
import { courseOfWalk } from "../../core/course/course-walk.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import type { CourseOrder } from "../../electron/contract.ts";
import { settings } from "../app/settings.ts";
import { openMap } from "../map-case/map-case.ts";
import { pagesInStep } from "../print/pages-in-step.ts";
import { choices as printChoices } from "../print/print-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";
import { courses } from "./course-state.ts";
import { sheetChoices } from "./open-sheets.ts";

const printed = computed<CourseOrder["courses"]>(() => {
  const now = courses.value;
  if (sheetChoices.value.of === "walk") {
    const asked = courseOfWalk(walk.value);
    return asked ? [{ name: walk.value.title, ...asked }] : [];
  }
  if (now.kind !== "ready") return [];
  return now.all.map(({ wish, points }, i) => ({
    name: courseWords.name(i),
    wish,
    points: points.map(({ lonLat, kind, name, words }) => ({ lonLat, kind, name, words })),
  }));
});

export const coursePages = pagesInStep(() => {
  const { parts, give } = sheetChoices.value;
  // Read by the host; a change of theirs asks anew.
  const { compass: _compass, lengthUnit: _unit } = settings.value;
  if (parts.length === 0 || printed.value.length === 0) return null;
  return {
    walk: formatWalk(walk.value),
    mapId: openMap.value?.opened.id ?? null,
    wish: { ...printChoices.value, frames: null },
    course: { parts, give, field: null, courses: printed.value },
  };
});
