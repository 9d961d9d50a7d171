/** The window goes only when nothing is lost by it that the person would keep. */
import { mayLeaveBeside, unsavedBeside } from "../beside/beside-state.ts";
import { ask } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { making, stopMaking } from "../make-map/making.ts";
import { giveUpDrafts } from "../recovery/watch-window.ts";
import { unsaved } from "../walk-state/walk-document.ts";
import { menuWords } from "../words/menu-words.ts";
import { sayFault } from "./notices.ts";
import { once } from "./once.ts";
import { mayLeaveWalk } from "./walk-files.ts";

/** Once the person has said that the walk may go, it is not asked again. */
let mayGo = false;
let asking = false;

/** Called once. A browser asks in its own words; the shell lets the window ask, by `leave`. */
export function holdWindow(): void {
  window.addEventListener("beforeunload", (event) => {
    if ((unsaved.value || unsavedBeside.value.length > 0) && !mayGo) event.preventDefault();
  });
}

/** @param how the window alone, or the whole program with it */
export async function leave(how: "close" | "quit"): Promise<void> {
  if (asking) return;
  asking = true;
  try {
    if (!((await mayLeaveWalk()) && (await mayLeaveBeside()) && (await mayStopMaking()))) return;
    mayGo = true;
    await giveUpDrafts();
    if (how === "quit") await host.quit();
    else window.close();
  } catch (thrown) {
    sayFault(thrown);
  } finally {
    asking = false;
  }
}

async function mayStopMaking(): Promise<boolean> {
  if (!making.value) return true;
  const { makingTitle, makingText, makingStop } = menuWords.leaving;
  const answer = await ask("question", {
    title: makingTitle,
    text: makingText,
    buttons: [{ id: "stop", label: makingStop, strong: true }],
  });
  if (answer !== "stop") return false;
  await stopMaking();
  await once(() => making.value === null);
  return true;
}
