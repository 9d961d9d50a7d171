/** How far along long work is: one line that changes on a terminal; elsewhere a line each time the words change. */
export interface ProgressLine {
  show(text: string): void;
  clear(): void;
}

export function progressLine(stream: NodeJS.WriteStream): ProgressLine {
  let shown = "";
  if (!stream.isTTY) {
    return {
      show(text) {
        // Without its figure, so that a log gets a line for each stage and not a hundred.
        const stage = text.replace(/\s*\d+ %.*$/, "");
        if (stage !== shown) stream.write(`${stage}\n`);
        shown = stage;
      },
      clear: () => undefined,
    };
  }
  return {
    show(text) {
      if (text === shown) return;
      stream.write(`\r\u001b[K${text}`);
      shown = text;
    },
    clear: () => void stream.write("\r\u001b[K"),
  };
}
