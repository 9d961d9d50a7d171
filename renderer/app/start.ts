/** What happens between an empty page and a window ready for work. */
import { ask } from "../dialogs/dialogs.ts";
import { host, onHostCommand } from "../host/host.ts";
import { mapEntries, openMapById, refreshMapCase } from "../map-case/map-case.ts";
import { keepAdvice } from "../advice/advice-state.ts";
import { keepFramesOfWalk } from "../print/print-state.ts";
import { keepMaking } from "../make-map/making.ts";
import { listenToPaste } from "../exchange/paste.ts";
import { listenToDrops } from "../map-case/drop-files.ts";
import { keepCalm, keepFigures } from "../walk-state/figures.ts";
import { unsaved, walk } from "../walk-state/walk-document.ts";
import { watchWindow } from "../recovery/watch-window.ts";
import { words } from "../words/words.ts";
import { effect } from "@preact/signals";
import { hostInfo } from "./host-info.ts";
import { listenToKeys } from "./keyboard.ts";
import { holdWindow, leave } from "./leaving.ts";
import { keepNativeMenu, pickNative } from "./native-menu.ts";
import { say, sayFault } from "./notices.ts";
import { changeSettings, loadSettings, settings } from "./settings.ts";
import { openGiven } from "./open-given.ts";
import { keepRecent } from "./recent.ts";

export function listen(): void {
  keepFigures();
  keepCalm();
  keepAdvice();
  keepFramesOfWalk();
  keepMaking();
  listenToDrops();
  listenToPaste();
  listenToKeys();
  effect(() => {
    document.title = `${unsaved.value ? "• " : ""}${walk.value.title} – ${words.app}`;
  });
  holdWindow();
  keepNativeMenu();
  onHostCommand((command) => {
    if ("item" in command) pickNative(command.item);
    else if (command.ask === "open-files") void openGiven();
    else void leave(command.ask);
  });
}

export async function start(): Promise<void> {
  try {
    hostInfo.value = await host.info();
    for (const notice of hostInfo.value.notices) say(notice);
    await loadSettings();
    await refreshMapCase();
  } catch (thrown) {
    sayFault(thrown);
    return;
  }
  let cautions: Promise<unknown> = Promise.resolve();
  if (!settings.value.cautionSeen)
    cautions = ask("cautions", null).then(() => changeSettings({ cautionSeen: true }));
  const entries = mapEntries.value.filter((entry) => entry.fault === null);
  const first = entries.find((entry) => entry.id === settings.value.lastMapId) ?? entries[0];
  if (first) await openMapById(first.id);
  await cautions;
  await watchWindow();
  keepRecent();
  await openGiven();
}
