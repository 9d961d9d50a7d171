/** Walks opened or saved lately: listed for menus and the empty slip, opened again, taken off the list. */
import { effect, signal } from "@preact/signals";
import { Fault } from "../../core/fault.ts";
import type { RecentWalk } from "../../electron/contract.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { walkFile } from "../walk-state/walk-document.ts";
import { menuWords } from "../words/menu-words.ts";
import type { Item } from "./command.ts";
import { sayFault } from "./notices.ts";
import { openKnown, openWalk } from "./walk-files.ts";

const { recent: words } = menuWords;

export const recentWalks = signal<readonly RecentWalk[]>([]);

async function refresh(): Promise<void> {
  try {
    recentWalks.value = await host.recentWalks();
  } catch {
    // What does not answer is told where it matters.
  }
}

/** Called once: the list follows each opening and saving, and what happened to the files while the window was away. */
export function keepRecent(): void {
  effect(() => {
    void walkFile.value;
    void refresh();
  });
  window.addEventListener("focus", () => void refresh());
}

export async function forgetRecent(id: string | null): Promise<void> {
  try {
    await host.forgetRecent(id);
  } catch (thrown) {
    sayFault(thrown);
  }
  await refresh();
}

export async function openRecent({ file }: RecentWalk): Promise<void> {
  try {
    await openKnown(file);
  } catch (thrown) {
    if (Fault.from(thrown).code === "no-file") await tellGone(file.id, file.name);
    else sayFault(thrown);
  }
  await refresh();
}

async function tellGone(id: string, name: string): Promise<void> {
  const answer = await ask("question", {
    title: words.goneTitle(name),
    text: words.goneText,
    buttons: [
      { id: "forget", label: words.goneForget },
      { id: "choose", label: words.goneChoose, strong: true },
    ],
  });
  // What was opened from elsewhere stands in the list by itself.
  if (answer === "forget" || (answer === "choose" && (await openWalk()))) await forgetRecent(id);
}

export const lineOf = ({ file, folder, there }: RecentWalk): string =>
  there ? words.line(file.name, folder) : words.lineGone(file.name);

/** The list as lines of a menu, and the line that empties it. */
export function recentItems(): readonly Item[] {
  const walks = recentWalks.value;
  if (walks.length === 0) return [];
  return [
    ...walks.map((one) => ({
      id: `recent:${one.file.id}`,
      name: () => lineOf(one),
      findName: () => words.find(one.file.name),
      run: () => openRecent(one),
    })),
    { id: "forget-recent", name: () => words.forgetAll, run: () => forgetRecent(null) },
  ];
}
