/** Says that the window is there, and asks what others did meanwhile: left work, took its file over, changed it. */
import { effect } from "@preact/signals";
import { fileOnDisk, tellChange, tellTakenOver } from "../app/walk-files.ts";
import { sayFault } from "../app/notices.ts";
import { ask, openDialogs } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { lockFile, walkFile } from "../walk-state/walk-document.ts";
import { savingWords } from "../words/saving-words.ts";
import { keepDrafts } from "./keep-drafts.ts";
import { sayGoodbyeForLast, windowId } from "./window-id.ts";

const BEAT_MS = 5_000;

/** Work that was offered in this window: it is not offered again before the next start. */
const offered = new Set<string>();

async function beat(): Promise<void> {
  const { takenOver, drafts } = await host.beat(windowId, document.visibilityState === "hidden");
  const file = walkFile.value;
  if (takenOver && file && !file.locked) tellTakenOver(file);
  const fresh = drafts.filter(({ id }) => !offered.has(id));
  if (fresh.length === 0 || openDialogs.value.length > 0) return;
  for (const { id } of fresh) offered.add(id);
  await ask("recovery", { drafts: fresh });
}

let holding: Promise<void> = Promise.resolve();

async function hold(): Promise<void> {
  const file = walkFile.peek();
  const handle = file && !file.locked ? file.handle : null;
  if ((await host.holdWalk(windowId, handle)) || !handle) return;
  const answer = await ask("question", {
    title: savingWords.heldTitle(handle.name),
    text: savingWords.heldText,
    buttons: [
      { id: "over", label: savingWords.takeOver },
      { id: "look", label: savingWords.onlyLook, strong: true },
    ],
  });
  if (walkFile.peek()?.handle.id !== handle.id) return;
  if (answer === "over") await host.holdWalk(windowId, handle, true);
  else lockFile();
}

/** A change is asked about once, when a person comes back to the window. */
async function look(): Promise<void> {
  const file = walkFile.peek();
  if (!file || openDialogs.value.length > 0) return;
  const state = await fileOnDisk(file);
  if (state !== "same" && walkFile.peek() === file && openDialogs.value.length === 0)
    await tellChange(file, state);
}

/** Called once, when the window has its map. */
export async function watchWindow(): Promise<void> {
  keepDrafts();
  effect(() => {
    void walkFile.value;
    holding = holding.then(hold).catch(sayFault);
  });
  let looking = false;
  const onLook = (): void => {
    if (looking || document.visibilityState === "hidden") return;
    looking = true;
    void look()
      .catch(sayFault)
      .finally(() => (looking = false));
  };
  window.addEventListener("focus", onLook);
  document.addEventListener("visibilitychange", onLook);
  window.addEventListener("pagehide", () => void host.leave(windowId).catch(() => undefined));
  // A host that does not answer is told where it matters, not every few seconds.
  let beating = false;
  const tick = async (): Promise<void> => {
    if (beating) return;
    beating = true;
    await beat().catch(() => undefined);
    beating = false;
  };
  document.addEventListener("visibilitychange", () => void tick());
  await sayGoodbyeForLast().catch(() => undefined);
  window.setInterval(() => void tick(), BEAT_MS);
  await tick();
}

/** The person said that unsaved work may go. */
export const giveUpDrafts = (): Promise<void> => host.leave(windowId, true).catch(() => undefined);
