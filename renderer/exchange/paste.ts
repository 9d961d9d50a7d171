/** Text or a file pasted anywhere in the window but in a field. */
import { inField } from "../app/keyboard.ts";
import { openDialogs } from "../dialogs/dialogs.ts";
import { importIsOpen, takeForeign, takeForeignText } from "./take-foreign.ts";

export function listenToPaste(): void {
  window.addEventListener("paste", (event) => {
    if (inField(event.target) || (openDialogs.peek().length > 0 && !importIsOpen())) return;
    const file = event.clipboardData?.files[0];
    if (file) void takeForeign(file);
    else takeForeignText(event.clipboardData?.getData("text/plain") ?? "");
    event.preventDefault();
  });
}
