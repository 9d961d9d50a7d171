/** Keys of the whole window. Fields keep their own undo; a dialog keeps all keys to itself. */
import { keysOf, run } from "./command.ts";
import { allCommands } from "./commands.ts";
import { openDialogs } from "../dialogs/dialogs.ts";
import { leaveFound } from "../find/find-state.ts";
import { leavePlace } from "../place/place-state.ts";
import { picked } from "../walk-state/selection.ts";

/** "z" with Ctrl or Cmd, "shift+z" … as commands name their keys, "f11" alone; null for what types or moves. */
export function pressedKey(
  event: Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "shiftKey" | "altKey">,
): string | null {
  const named = /^F\d+$/.test(event.key);
  if (!event.ctrlKey && !event.metaKey) return named ? event.key.toLowerCase() : null;
  const parts = [event.shiftKey && "shift", event.altKey && "alt", event.key.toLowerCase()];
  return parts.filter(Boolean).join("+");
}

export const inField = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && (target.matches("input, textarea, select") || target.isContentEditable);

export function listenToKeys(): void {
  window.addEventListener("keydown", (event) => {
    if (event.defaultPrevented || openDialogs.value.length > 0) return;
    if (event.key === "Escape" && !inField(event.target)) {
      if (leavePlace()) return;
      picked.value = null;
      leaveFound();
      return;
    }
    const key = pressedKey(event);
    if (key === null) return;
    const found = allCommands().find((one) => keysOf(one).includes(key));
    if (!found) return;
    if ((found.id === "undo" || found.id === "redo") && inField(event.target)) return;
    event.preventDefault();
    run(found);
  });
}
