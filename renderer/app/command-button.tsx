/** A command as a button or as a line of a menu; when it cannot be done it says why. */
import { COMMANDS, type CommandId, keyText, runCommand } from "./commands.ts";
import { MenuItem } from "./menu.tsx";

export function CommandButton({ id, short }: { readonly id: CommandId; readonly short: string }) {
  const command = COMMANDS[id];
  const refusal = command.refusal?.() ?? null;
  const name = command.name();
  const keys = keyText(id);
  // Stays focusable while it refuses, so that the keyboard does not lose its place and the reason can be heard.
  return (
    <button
      type="button"
      class="button"
      aria-disabled={refusal !== null}
      aria-label={refusal === null ? name : `${name} (${refusal})`}
      title={refusal ?? (keys ? `${name} (${keys})` : name)}
      data-test={id}
      onClick={() => runCommand(id)}
    >
      {short}
    </button>
  );
}

export function CommandItem({ id }: { readonly id: CommandId }) {
  const command = COMMANDS[id];
  return (
    <MenuItem onPick={() => runCommand(id)} keys={keyText(id)} refusal={command.refusal?.() ?? null}>
      {command.name()}
    </MenuItem>
  );
}
