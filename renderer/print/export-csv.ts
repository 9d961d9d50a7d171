/** The leg table to a spreadsheet. */
import { legTableCsv } from "../../core/legs/table/leg-table-csv.ts";
import { inPlainFigures } from "../../core/units/figure-style.ts";
import type { WalkAdvice } from "../../core/legs/advice/advice.ts";
import { allKnown, wholeAdvice } from "../advice/advice-state.ts";
import { adviceWords } from "../words/advice-words.ts";
import { say, sayFault } from "../app/notices.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { legTableOfWalk } from "./leg-table-of-walk.ts";

/** What is known already is not waited for. */
export async function adviceForTable(): Promise<WalkAdvice | null | "cancelled"> {
  if (allKnown.value) return wholeAdvice(() => undefined, new AbortController().signal);
  const { title, text, without } = adviceWords.waiting;
  const waited = await ask("waiting", { title, text, without, run: wholeAdvice });
  return waited ? (waited.found as WalkAdvice | null) : "cancelled";
}

export async function exportCsv(): Promise<void> {
  try {
    const advice = await adviceForTable();
    if (advice === "cancelled") return;
    const table = await legTableOfWalk(advice);
    const text = inPlainFigures(() => legTableCsv(table));
    const suggestedName = fileNameFrom(walk.value.title, ".csv");
    const handle = await saveSomewhere(words.dialogs.csvTitle, suggestedName, (choice) =>
      host.exportText("csv", text, suggestedName, choice),
    );
    if (handle) say(words.notices.exported(handle.name));
  } catch (thrown) {
    sayFault(thrown);
  }
}
