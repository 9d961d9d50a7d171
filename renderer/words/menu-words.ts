/** Words of the menus a system draws, of walks opened lately, of files opened from outside, and of going. */
import type { NativeMenu } from "../../electron/contract.ts";
import { words } from "./words.ts";

export const menuWords = {
  titles: {
    file: "File",
    edit: "Edit",
    view: words.bar.viewMenu,
    tools: words.bar.toolsMenu,
    window: "Window",
    help: "Help",
  } satisfies NativeMenu["titles"],
  system: {
    cut: "Cut",
    copy: "Copy",
    paste: "Paste",
    selectAll: "Select all",
    close: "Close the window",
    quit: `Quit ${words.app}`,
    hide: `Hide ${words.app}`,
    hideOthers: "Hide others",
    unhide: "Show all",
    minimize: "Minimise",
    zoom: "Zoom",
    front: "Bring all to the front",
  } satisfies NativeMenu["system"],

  recent: {
    heading: "Opened lately",
    line: (name: string, folder: string) => `${name} · ${folder}`,
    lineGone: (name: string) => `${name} · not there now`,
    find: (name: string) => `Open again: ${name}`,
    forgetAll: "Forget these walks",
    forget: (name: string) => `Take ${name} off the list`,
    goneTitle: (name: string) => `${name} is not where it was`,
    goneText:
      "It was moved or renamed, or its disk is not connected. Connect the disk and try again, or open it from where it is now.",
    goneForget: "Take it off the list",
    goneChoose: "Open it from elsewhere…",
  },

  given: {
    waits: (name: string) => `${name} opens as soon as this dialog is done with.`,
    notOurs: (name: string) =>
      `${name} is neither a walk nor a map archive. Routes and tracks of other programs are brought in from the Walk menu.`,
    beside: (title: string) => `${title} lies beside the open walk.`,
  },

  text: {
    larger: "Larger text",
    smaller: "Smaller text",
    usual: "Text at its usual size",
    largest: "Text is as large as it goes",
    smallest: "Text is as small as it goes",
  },

  leaving: {
    makingTitle: "A map is being made",
    makingText: "Leaving now stops it, and nothing of it is kept.",
    makingStop: "Stop and leave",
  },
};
