/** Text to the clipboard, by the way that needs no permission: a copy the person asked for, with a text of our own. */

export interface Copied {
  readonly text: string;
  /** The same for programs that take pages. */
  readonly html?: string;
}

/** @returns whether the system took it; it does only while it answers a person's own click or key */
export function copyText({ text, html }: Copied): boolean {
  let taken = false;
  const give = (event: ClipboardEvent): void => {
    event.preventDefault();
    event.stopImmediatePropagation();
    event.clipboardData?.setData("text/plain", text);
    if (html !== undefined) event.clipboardData?.setData("text/html", html);
    taken = event.clipboardData !== null;
  };
  document.addEventListener("copy", give, { capture: true });
  try {
    return document.execCommand("copy") && taken;
  } finally {
    document.removeEventListener("copy", give, { capture: true });
  }
}
