/** The step of packaging that writes what systems are told about the program's files: `npm run file-types -- FOLDER PROGRAM`. */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { desktopEntry, mimePackage, plistMembers, registryEntries } from "./file-types.ts";

const [folder, program] = process.argv.slice(2);
if (folder === undefined || program === undefined) {
  process.stderr.write(
    "Name a folder to write to, and the path the program will have once it is installed.\n",
  );
  process.exitCode = 2;
} else {
  const files = {
    "legwright.desktop": desktopEntry(program),
    "legwright.xml": mimePackage(),
    "Info.plist": plistMembers(),
    // Editors of the registry read UTF-16 with a mark at the front.
    "legwright.reg": `\uFEFF${registryEntries(program)}`,
  };
  await mkdir(folder, { recursive: true });
  for (const [name, text] of Object.entries(files))
    await writeFile(join(folder, name), text, name.endsWith(".reg") ? "utf16le" : "utf8");
  process.stdout.write(`${Object.keys(files).join(", ")} are in ${folder}.\n`);
}
