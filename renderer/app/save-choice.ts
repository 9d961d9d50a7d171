/** Where a file goes: the host's own dialog, or the page's when the host has none, with the question before replacing. */
import { Fault } from "../../core/fault.ts";
import type { SaveChoice } from "../../electron/contract.ts";
import { ask } from "../dialogs/dialogs.ts";
import { words } from "../words/words.ts";
import { hostInfo } from "./host-info.ts";

/**
 * @param title of the page's dialog
 * @param save writes the file; without a choice the host asks for itself
 * @returns null when the person chose no file
 */
export async function saveSomewhere<Saved>(
  title: string,
  suggestedName: string,
  save: (choice?: SaveChoice) => Promise<Saved | null>,
): Promise<Saved | null> {
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

/** Hosts take names of up to 200 bytes: a letter has up to four. */
const MOST_BYTES = 160;

/** A file name from a title: letters and figures of any script, their marks with them, the rest as hyphens. */
export function fileNameFrom(title: string, ending: string): string {
  const letters = Array.from(
    title
      .normalize("NFC")
      .replace(/[^\p{L}\p{M}\p{N}]+/gu, "-")
      .replace(/^-+|-+$/g, ""),
  ).slice(0, 80);
  while (new TextEncoder().encode(letters.join("")).length > MOST_BYTES) letters.pop();
  const stem = letters.join("");
  return `${stem || "walk"}${ending}`;
}
