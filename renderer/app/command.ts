/** What a command is: something the window can be told to do, by menu, button, key, find box or host. */
import { hostInfo } from "./host-info.ts";

export interface Command {
  readonly name: () => string;
  /** As read by the keyboard, with Ctrl or Cmd: "z", "shift+z"; function keys alone: "f11". The first is shown. */
  readonly keys?: readonly string[];
  /** A key that browsers keep to themselves: heard and shown where the window has no browser around it. */
  readonly shellKey?: string;
  /** Why it cannot be done now; null when it can. */
  readonly refusal?: () => string | null;
  /** Given for what is on or off. */
  readonly on?: () => boolean;
  /** One of several, of which one is on. */
  readonly oneOf?: boolean;
  readonly run: () => void | Promise<unknown>;
}

/** A command by what it is known by, in menus of every kind. */
export interface Item extends Command {
  readonly id: string;
  /** As the find box calls it, where no heading stands over it. */
  readonly findName?: () => string;
}

export const refusalOf = (command: Command): string | null => command.refusal?.() ?? null;

export function run(command: Command): void {
  if (refusalOf(command) === null) void command.run();
}

/** The keys it is heard by in this host. */
export function keysOf({ keys = [], shellKey }: Command): readonly string[] {
  return shellKey !== undefined && hostInfo.value?.host === "electron" ? [shellKey, ...keys] : keys;
}

/** "shift+z" as written on this system: "Ctrl+Shift+Z", "⇧⌘Z"; null stays null. */
export function keyText(
  key: string | null | undefined,
  mac = /mac/i.test(navigator.platform),
): string | null {
  if (!key) return null;
  if (/^f\d+$/.test(key)) return key.toUpperCase();
  const plus = key.endsWith("+");
  const parts = (plus ? key.slice(0, -1) : key).split("+").filter(Boolean);
  const letter = (plus ? "+" : (parts.pop() ?? "")).toUpperCase();
  const names = parts.map((part) => (part === "shift" ? (mac ? "⇧" : "Shift") : mac ? "⌥" : "Alt"));
  return mac ? `${names.join("")}⌘${letter}` : ["Ctrl", ...names, letter].join("+");
}
