/** A worksheet as the window orders it: made anew from its seed on the map, on the paper and for the day of the job. */
import { makeWorksheet } from "../../../core/course/drills/make-worksheet.ts";
import { Fault } from "../../../core/fault.ts";
import { legSettingsOf } from "../../../core/legs/leg-settings.ts";
import type { PressOptions } from "../../../core/sheet/field-sheet.ts";
import type { PageSet } from "../../../core/sheet/page/page.ts";
import { paperSize } from "../../../core/sheet/page/paper-size.ts";
import type { TextRuler } from "../../../core/sheet/page/text-ruler.ts";
import type { SheetJob } from "../../../core/sheet/sheet-job.ts";
import { worksheetPages } from "../../../core/sheet/worksheet/worksheet-pages.ts";
import type { Ground } from "../../../core/terrain/ground.ts";
import type { WorksheetOrder } from "../../contract.ts";

export async function worksheetSheets(
  { drill, parts }: WorksheetOrder,
  { walk, wish, compass, lengthUnit, choices }: SheetJob,
  ground: Ground | null,
  ruler: TextRuler,
  how: PressOptions,
): Promise<PageSet> {
  if (!ground) throw new Fault("unavailable", "A worksheet needs a map.", null, "Open a map first.");
  const settings = legSettingsOf(walk, { graduationDeg: compass.graduationDeg, lengthUnit, ...choices });
  const sheet = await makeWorksheet(drill, ground, settings, how.signal);
  const { large, blackAndWhite, landscape } = wish;
  const look = { paper: paperSize(wish.paper, landscape), large, blackAndWhite };
  return await worksheetPages(sheet, { ...look, parts, date: walk.date }, ground, ruler, how);
}
