import { Fault } from "../../core/fault.ts";

/** Names that Windows gives to devices, with any ending. */
const DEVICES = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$)(\..*)?$/i;

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
  if (/[/\\:]/.test(name)) throw refuse("a name has no slashes or colons");
  // Control characters, and those that turn the direction of text, hide what a name says.
  // eslint-disable-next-line no-control-regex
  if (/[\u0000-\u001f\u007f<>"|?*\u202a-\u202e\u2066-\u2069]/.test(name))
    throw refuse("it holds a character that names cannot have");
  if (name.startsWith(".")) throw refuse("it begins with a dot");
  if (/[. ]$/.test(name)) throw refuse("it ends with a dot or a space");
  if (DEVICES.test(name)) throw refuse("Windows keeps this name for a device");
  if (Buffer.byteLength(name) > 200) throw refuse("it is too long");
  return name;
}

/** A suggested name made fit for a dialog: whatever a title holds, a name comes out. */
export function suggestName(title: string): string {
  // eslint-disable-next-line no-control-regex
  let name = title
    .normalize("NFC")
    .replaceAll(/[/\\:\u0000-\u001f\u007f<>"|?*\u202a-\u202e\u2066-\u2069]+/g, " ")
    .replaceAll(/\s+/g, " ")
    .replaceAll(/^[. ]+|[. ]+$/g, "");
  while (Buffer.byteLength(name) > 180) name = name.slice(0, -1);
  return name === "" || DEVICES.test(name) ? "walk" : name;
}
