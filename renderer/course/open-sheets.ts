/** What is chosen for sheets of courses, and the screen that prints them. */
import { signal } from "@preact/signals";
import { COURSE_PARTS, type CoursePart } from "../../core/sheet/course/sheet-blocks.ts";
import { ask } from "../dialogs/dialogs.ts";

export interface SheetChoices {
  readonly parts: readonly CoursePart[];
  /** Learners get bearings and lengths, or the points on the map. */
  readonly give: "legs" | "map";
  /** What was set, or the walk as it is now. */
  readonly of: "courses" | "walk";
}

export const sheetChoices = signal<SheetChoices>({ parts: COURSE_PARTS, give: "legs", of: "courses" });
export const chooseSheets = (change: Partial<SheetChoices>): void => {
  sheetChoices.value = { ...sheetChoices.value, ...change };
};

export function coursePrint(of: SheetChoices["of"]): void {
  chooseSheets({ of });
  void ask("course-sheets", null);
}
