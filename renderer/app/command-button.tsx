/** A command as a button; when it cannot be done it says why. */
import { keysOf, keyText, refusalOf } from "./command.ts";
import { COMMANDS, type CommandId, runCommand } from "./commands.ts";

export function CommandButton({ id, short }: { readonly id: CommandId; readonly short: string }) {
  const command = COMMANDS[id];
  const refusal = refusalOf(command);
  const name = command.name();
  const keys = keyText(keysOf(command)[0]);
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
