/** The open sheet stronger or fainter, one step a time and round again. */
import { SHEET_STRENGTHS } from "../../electron/contract.ts";
import { dismissNotice, say } from "../app/notices.ts";
import { changeSettings, settings } from "../app/settings.ts";
import { sheetWords } from "../words/sheet-words.ts";
import { shownSheet } from "./map-case.ts";

export const sheetRefusal = (): string | null => (shownSheet.value ? null : sheetWords.noSheet);

let said = 0;

export function stepSheet(): void {
  const at = SHEET_STRENGTHS.indexOf(settings.value.sheetStrength);
  const sheetStrength = SHEET_STRENGTHS[(at + 1) % SHEET_STRENGTHS.length] ?? "full";
  changeSettings({ sheetStrength });
  dismissNotice(said);
  said = say(sheetWords.now(sheetWords.strengths[sheetStrength]));
}
