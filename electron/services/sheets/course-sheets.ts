/** Sheets of practice courses as the window orders them: figures and rules looked at anew on the map, on the paper of the job. */
import { checkCourse } from "../../../core/course/check-course.ts";
import { fieldCourse } from "../../../core/course/small-ground.ts";
import { Fault } from "../../../core/fault.ts";
import { legSettingsOf } from "../../../core/legs/leg-settings.ts";
import { coursePages, type NamedCourse } from "../../../core/sheet/course/course-pages.ts";
import { fieldPages } from "../../../core/sheet/course/field-pages.ts";
import type { PressOptions } from "../../../core/sheet/field-sheet.ts";
import type { PageSet } from "../../../core/sheet/page/page.ts";
import { paperSize } from "../../../core/sheet/page/paper-size.ts";
import type { TextRuler } from "../../../core/sheet/page/text-ruler.ts";
import type { SheetJob } from "../../../core/sheet/sheet-job.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import type { CourseOrder } from "../../contract.ts";

export async function courseSheets(
  { parts, give, courses, field }: CourseOrder,
  { walk, wish, compass, lengthUnit, choices, advice }: SheetJob,
  ground: Ground | null,
  ruler: TextRuler,
  { signal, progress }: PressOptions,
): Promise<PageSet> {
  const { large, blackAndWhite } = wish;
  const look = { paper: paperSize(wish.paper, wish.landscape), large, blackAndWhite, parts };
  if (field) return fieldPages(fieldCourse(field), look, ruler);
  if (!ground) throw new Fault("unavailable", "A course needs a map.", null, "Open a map first.");
  const { graduationDeg } = compass;
  const legs = legSettingsOf(walk, { graduationDeg, lengthUnit, ...choices });
  const named: NamedCourse[] = [];
  for (const [i, { name, wish: asked, points }] of courses.entries()) {
    await progress?.(i, courses.length);
    const { course, broken } = await checkCourse(asked, points, ground, { legs, advice }, signal);
    named.push({ name, course, broken: broken.map(({ words }) => words) });
  }
  return coursePages(
    named,
    { ...look, give, scale: null, date: walk.date, graduationDeg },
    ground,
    ruler,
    signal,
  );
}
