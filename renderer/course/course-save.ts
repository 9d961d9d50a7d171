/** Each course of a set as a walk of its own: written to a file, and laid beside the one that is open. */
import type { Course } from "../../core/course/course.ts";
import { walkOfCourse } from "../../core/course/course-walk.ts";
import { formatWalk } from "../../core/walk/walk-file.ts";
import { sayFault } from "../app/notices.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { asWritten } from "../app/walk-files.ts";
import { laySaved } from "../beside/beside-state.ts";
import { host } from "../host/host.ts";
import { walk } from "../walk-state/walk-document.ts";
import { courseWords } from "../words/course-words.ts";
import { courseSaid } from "./course-state.ts";

/** One after the other; whoever chooses no file for one is asked for no more. */
export async function saveCourses(all: readonly Course[]): Promise<void> {
  const saved: string[] = [];
  try {
    for (const [i, course] of all.entries()) {
      const title = courseWords.name(i);
      const made = asWritten(walkOfCourse(course, walk.peek(), title));
      const text = formatWalk(made);
      const suggested = fileNameFrom(title, ".walk.geojson");
      const one = await saveSomewhere(courseWords.saveWalk(title), suggested, (choice) =>
        host.saveWalkAs(text, suggested, choice),
      );
      if (!one) break;
      saved.push(one.file.name);
      laySaved(made, one.file);
    }
  } catch (thrown) {
    sayFault(thrown);
  }
  if (saved.length > 0) courseSaid.value = courseWords.savedWalks(saved);
}
