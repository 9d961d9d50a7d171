/** Sheets of the courses that were set, drawn by the host and saved where the person says. */
import type { Course } from "../../core/course/course.ts";
import type { CoursePart } from "../../core/sheet/course/sheet-blocks.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import { sayFault } from "../app/notices.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { host } from "../host/host.ts";
import { openMap } from "../map-case/map-case.ts";
import { choices as printChoices } from "../print/print-state.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";
import { courseSaid } from "./course-state.ts";

export async function saveCourseSheet(all: readonly Course[], part: CoursePart): Promise<void> {
  try {
    const key = await host.startSheets({
      walk: formatWalk(walk.peek()),
      mapId: openMap.peek()?.opened.id ?? null,
      wish: { ...printChoices.peek(), frames: null },
      course: {
        parts: [part],
        give: "legs",
        field: null,
        courses: all.map(({ wish, points }, i) => ({
          name: courseWords.name(i),
          wish,
          points: points.map(({ lonLat, kind, name, words }) => ({ lonLat, kind, name, words })),
        })),
      },
    });
    while (!(await host.sheetsState(key)).ready);
    const name = fileNameFrom(`${courseWords.title} ${part}`, ".pdf");
    const handle = await saveSomewhere(courseWords.saveTitle, name, (choice) =>
      host.saveSheets(key, "pdf", name, choice),
    );
    if (handle) courseSaid.value = courseWords.saved(handle.name);
  } catch (thrown) {
    sayFault(thrown);
  }
}
