/** Leg table to paper and to a spreadsheet. */
import { legTableCsv } from "../../core/legs/table/leg-table-csv.ts";
import { legTableHtml } from "../../core/legs/table/leg-table-html.ts";
import { say, sayFault } from "../app/notices.ts";
import { fileNameFrom, saveSomewhere } from "../app/save-choice.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { walk } from "../walk-state/walk-document.ts";
import { words } from "../words/words.ts";
import { legTableOfWalk } from "./leg-table-of-walk.ts";
import { tableFonts } from "./table-fonts.ts";

export async function printTable(): Promise<void> {
  try {
    const [table, fonts] = await Promise.all([legTableOfWalk(), tableFonts()]);
    await ask("print", {
      html: async (paper) => legTableHtml(table, { paper, fonts }),
      suggestedName: fileNameFrom(table.title, ".pdf"),
    });
  } catch (thrown) {
    sayFault(thrown);
  }
}

/** @returns whether a PDF was written */
export async function savePdf(html: string, suggestedName: string): Promise<boolean> {
  try {
    const handle = await saveSomewhere(words.dialogs.pdfTitle, suggestedName, (choice) =>
      host.printPdf({ html, suggestedName }, choice),
    );
    if (handle) say(words.notices.exported(handle.name));
    return handle !== null;
  } catch (thrown) {
    sayFault(thrown);
    return false;
  }
}

export async function exportCsv(): Promise<void> {
  try {
    const text = legTableCsv(await legTableOfWalk());
    const suggestedName = fileNameFrom(walk.value.title, ".csv");
    const handle = await saveSomewhere(words.dialogs.csvTitle, suggestedName, (choice) =>
      host.exportText("csv", text, suggestedName, choice),
    );
    if (handle) say(words.notices.exported(handle.name));
  } catch (thrown) {
    sayFault(thrown);
  }
}
