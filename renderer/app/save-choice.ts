/** Where a file goes: the host's own dialog, or the page's when the host has none, with the question before replacing. */
import { Fault } from "../../core/fault.ts";
import type { FileHandle, SaveChoice } from "../../electron/contract.ts";
import { ask } from "../dialogs/dialogs.ts";
import { words } from "../words/words.ts";
import { hostInfo } from "./host-info.ts";

/**
 * @param title of the page's dialog
 * @param save writes the file; without a choice the host asks for itself
 * @returns null when the person chose no file
 */
export async function saveSomewhere(
  title: string,
  suggestedName: string,
  save: (choice?: SaveChoice) => Promise<FileHandle | null>,
): Promise<FileHandle | null> {
  if (hostInfo.value?.dialogs !== "page") return save();
  let suggested = suggestedName;
  for (;;) {
    const name = await ask("save-name", { title, suggested, folder: hostInfo.value.folderName });
    if (name === null) return null;
    suggested = name;
    try {
      return await save({ name });
    } catch (thrown) {
      if (Fault.from(thrown).code !== "exists") throw thrown;
      const answer = await ask("question", {
        title: words.dialogs.replaceTitle(name),
        text: words.dialogs.replaceText,
        buttons: [{ id: "replace", label: words.dialogs.replace, strong: true }],
      });
      if (answer === "replace") return save({ name, replace: true });
    }
  }
}

/** A file name from a title: letters and figures of any script, the rest as hyphens. */
export function fileNameFrom(title: string, ending: string): string {
  const stem = title
    .normalize("NFC")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 80);
  return `${stem || "walk"}${ending}`;
}
