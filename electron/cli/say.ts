/** What a command says beside its product: on stderr, one line each. */
export function say(text: string): void {
  process.stderr.write(`legwright: ${oneLine(text)}\n`);
}

/** Text from a file may hold line breaks and terminal commands; a message is one plain line. */
export function oneLine(text: string): string {
  // eslint-disable-next-line no-control-regex
  return text.replaceAll(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, " ").trim();
}
