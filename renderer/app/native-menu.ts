/** The window's commands in the menu a system draws, told again whenever a name, a tick or a reason changes. */
import { effect, signal } from "@preact/signals";
import type { NativeItem, NativeMenu } from "../../electron/contract.ts";
import { openDialogs } from "../dialogs/dialogs.ts";
import { host } from "../host/host.ts";
import { menuWords } from "../words/menu-words.ts";
import { words } from "../words/words.ts";
import type { Part } from "./choices.ts";
import { type Item, keysOf, refusalOf, run } from "./command.ts";
import { itemOf } from "./commands.ts";
import { hostInfo } from "./host-info.ts";
import { inField } from "./keyboard.ts";
import { everyItem, SYSTEM_MENUS } from "./menu-table.ts";
import { sayFault } from "./notices.ts";

/** Changes come in bunches; a menu is opened by hand. */
const TELL_AFTER_MS = 50;

/** Whether one types just now: undo and redo are the field's then. */
const typing = signal(false);

const FIELD_STEPS: Readonly<Record<string, string>> = { undo: words.bar.undo, redo: words.bar.redo };

/** Names of points and files may be long; a menu as wide as the screen helps nobody. */
const MOST_LETTERS = 100;
const clipped = (label: string): string =>
  label.length > MOST_LETTERS ? `${label.slice(0, MOST_LETTERS - 1)}…` : label;

function nativeItem(item: Item): NativeItem {
  const fieldStep = typing.value ? FIELD_STEPS[item.id] : undefined;
  return {
    id: item.id,
    label: clipped(fieldStep ?? item.name()),
    key: keysOf(item)[0] ?? null,
    // A dialog is answered before anything else is done.
    enabled: fieldStep !== undefined || (openDialogs.value.length === 0 && refusalOf(item) === null),
    on: item.on?.() ?? null,
    oneOf: item.oneOf === true,
  };
}

const nativePart = ({ heading, items }: Part) => ({
  heading: heading ?? null,
  items: items().map(nativeItem),
});

function nativeMenu(): NativeMenu {
  const { file, edit, view, tools } = SYSTEM_MENUS;
  return {
    titles: menuWords.titles,
    menus: {
      file: file.map(nativePart),
      edit: edit.map(nativePart),
      view: view.map(nativePart),
      tools: tools.map(nativePart),
    },
    settings: nativeItem(itemOf("settings")),
    about: nativeItem(itemOf("about")),
    help: [nativeItem(itemOf("cautions"))],
    system: menuWords.system,
  };
}

/** Called once. A host without a menu of its own is told nothing. */
export function keepNativeMenu(): void {
  const follow = (): void => void (typing.value = inField(document.activeElement));
  window.addEventListener("focusin", follow);
  window.addEventListener("focusout", () => setTimeout(follow));
  let told = "";
  let timer: ReturnType<typeof setTimeout> | undefined;
  effect(() => {
    if (hostInfo.value?.host !== "electron") return;
    const menu = nativeMenu();
    clearTimeout(timer);
    timer = setTimeout(() => {
      const now = JSON.stringify(menu);
      if (now === told) return;
      told = now;
      host.showMenu(menu).catch(sayFault);
    }, TELL_AFTER_MS);
  });
}

/** A line of that menu was chosen. */
export function pickNative(id: string): void {
  // The menu's undo is the field's while one types in it.
  if (FIELD_STEPS[id] && inField(document.activeElement)) document.execCommand(id);
  else if (openDialogs.value.length === 0) {
    const item = everyItem().find((one) => one.id === id);
    if (item) run(item);
  }
}
