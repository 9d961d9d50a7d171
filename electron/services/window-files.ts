import { readFile, realpath } from "node:fs/promises";
import { join, sep } from "node:path";
import { mediaType } from "./media-type.ts";

export interface WindowFile {
  readonly bytes: Uint8Array;
  readonly type: string;
  /** Built files carry a hash in their name and never change under it. */
  readonly lasting: boolean;
}

/**
 * A file of the built window, by the path of its address; null for anything that is not one, whatever way the path
 * tries to leave the folder.
 */
export async function windowFile(folder: string, pathname: string): Promise<WindowFile | null> {
  let path: string;
  try {
    path = decodeURIComponent(pathname);
  } catch {
    return null;
  }
  if (path === "/") path = "/index.html";
  // Segments of plain names only: no "..", no hidden files, no drive letters, no backslashes, no NUL.
  if (!/^(\/[A-Za-z0-9_@~-][A-Za-z0-9._@~-]*)+$/.test(path)) return null;
  try {
    const root = await realpath(folder);
    const real = await realpath(join(root, path));
    if (!real.startsWith(root + sep)) return null;
    return { bytes: await readFile(real), type: mediaType(real), lasting: path.startsWith("/assets/") };
  } catch {
    return null;
  }
}
