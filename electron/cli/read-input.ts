import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { fileFault } from "../services/file-faults.ts";
import { decode } from "../services/walk-files.ts";

/** A file named on the command line. @throws Fault "no-file" … naming it */
export async function readInput(path: string): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch (error) {
    throw fileFault(error, path, "could not be read");
  }
}

/** @throws Fault also when it is not UTF-8 */
export async function readInputText(path: string): Promise<string> {
  return decode(await readInput(path), basename(path));
}
