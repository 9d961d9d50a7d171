import { Fault } from "../../core/fault.ts";

/** Names that Windows gives to devices, with any ending. Source: Microsoft, "Naming Files, Paths, and Namespaces". */
const DEVICES = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(\..*)?$/i;

/** What separates folders, drives and streams on some system. */
const SEPARATORS = /[/\\:]/;

/** Control characters, those that Windows forbids, and those that turn the direction of text and so hide an ending. */
// eslint-disable-next-line no-control-regex
const UNFIT = /[\u0000-\u001f\u007f<>"|?*\u202a-\u202e\u2066-\u2069]/;

/**
 * A bare file name as given by a window, checked so that it means one file in one folder on every system.
 * @throws Fault "not-allowed" when it has separators, is hidden or only dots, is a device's name, or is too long
 */
export function bareName(name: string): string {
  const refuse = (why: string): Fault =>
    new Fault(
      "not-allowed",
      `A file cannot be called that: ${why}.`,
      name.slice(0, 80),
      "Choose another name.",
    );
  if (name.trim() === "") throw refuse("the name is empty");
  if (SEPARATORS.test(name)) throw refuse("a name has no slashes or colons");
  if (UNFIT.test(name)) throw refuse("it holds a character that names cannot have");
  if (name.startsWith(".")) throw refuse("it begins with a dot");
  if (/[. ]$/.test(name)) throw refuse("it ends with a dot or a space");
  if (DEVICES.test(name)) throw refuse("Windows keeps this name for a device");
  if (Buffer.byteLength(name) > 200) throw refuse("it is too long");
  return name;
}

/** A suggested name made fit for a dialog: whatever a title holds, a name comes out. */
export function suggestName(title: string): string {
  const letters = Array.from(title.normalize("NFC"), (letter) =>
    SEPARATORS.test(letter) || UNFIT.test(letter) ? " " : letter,
  );
  while (Buffer.byteLength(letters.join("")) > 180) letters.pop();
  const name = letters
    .join("")
    .replaceAll(/\s+/g, " ")
    .replaceAll(/^[. ]+|[. ]+$/g, "");
  return name === "" || DEVICES.test(name) ? "walk" : name;
}
