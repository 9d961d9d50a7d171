import { randomBytes } from "node:crypto";
import { promises as nodeFs } from "node:fs";
import type { FileHandle } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { fileFault } from "./file-faults.ts";

/** The few calls a save needs, so that tests can make each of them fail. */
export interface SaveFs {
  realpath(path: string): Promise<string>;
  stat(path: string): Promise<{ readonly mode: number }>;
  open(
    path: string,
    flags: string,
    mode?: number,
  ): Promise<Pick<FileHandle, "writeFile" | "sync" | "close" | "chmod">>;
  rename(from: string, to: string): Promise<void>;
  link(from: string, to: string): Promise<void>;
  unlink(path: string): Promise<void>;
}

export interface NewFile {
  readonly path: string;
  /** Several pieces are asked for one after the other, as they are written. */
  readonly content: string | Uint8Array | Iterable<Uint8Array>;
}

/**
 * Writes a file so that at every instant, power loss included, its name holds either all of the old content or all of
 * the new: a temporary file in the same folder, flushed, then renamed over it. The content goes through
 * FileHandle.writeFile, which goes on after a short write; a single write() on a nearly full disk stores a part
 * and reports no error.
 * @param options.replace false: the file must not be there yet (Fault "exists")
 * @throws Fault "no-space", "read-only", "no-file" (the folder is gone) …; the old file is then untouched
 */
export async function saveAtomically(
  path: string,
  content: string | Uint8Array,
  options: { readonly replace?: boolean } = {},
  fs: SaveFs = nodeFs,
): Promise<void> {
  await saveAll([{ path, content }], options, fs);
}

/**
 * Several files that belong together: all are written and flushed beside their places before the first is renamed, so
 * that a full disk leaves none of them.
 * @throws Fault as `saveAtomically`
 */
export async function saveAll(
  files: readonly NewFile[],
  options: { readonly replace?: boolean } = {},
  fs: SaveFs = nodeFs,
): Promise<void> {
  const staged: Staged[] = [];
  let path = "";
  try {
    for (const file of files) {
      path = file.path;
      staged.push(await stage(file, fs));
    }
    for (const file of staged) {
      path = file.target;
      await put(file, options.replace !== false, fs);
      await flushFolder(dirname(file.target), fs);
    }
  } catch (error) {
    for (const { temporary } of staged) await fs.unlink(temporary).catch(() => undefined);
    throw fileFault(error, path, "could not be saved");
  }
}

interface Staged {
  readonly temporary: string;
  readonly target: string;
}

async function stage({ path, content }: NewFile, fs: SaveFs): Promise<Staged> {
  // A link stays a link: what it points at is replaced.
  const target = await fs.realpath(path).catch(() => path);
  const mode = await fs.stat(target).then(
    (stat) => stat.mode & 0o7777,
    () => undefined,
  );
  const temporary = join(dirname(target), temporaryName(basename(target)));
  const file = await fs.open(temporary, "wx", mode ?? 0o666);
  try {
    try {
      // The umask may have taken from the mode that the old file had.
      if (mode !== undefined) await file.chmod(mode).catch(() => undefined);
      // Each goes on where the one before it ended.
      if (typeof content === "string" || ArrayBuffer.isView(content)) await file.writeFile(content);
      else for (const piece of content) await file.writeFile(piece);
      await file.sync();
    } finally {
      await file.close();
    }
  } catch (error) {
    await fs.unlink(temporary).catch(() => undefined);
    throw error;
  }
  return { temporary, target };
}

async function put({ temporary, target }: Staged, replace: boolean, fs: SaveFs): Promise<void> {
  if (replace) return await fs.rename(temporary, target);
  try {
    // A link fails when the name is taken; a rename does not.
    await fs.link(temporary, target);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "EEXIST") throw error;
    // Not every disk has links; there the rename must do.
    return await fs.rename(temporary, target);
  }
  await fs.unlink(temporary);
}

/** A rename is safe from power loss only when the folder itself is flushed. Windows cannot, and need not. */
async function flushFolder(folder: string, fs: SaveFs): Promise<void> {
  try {
    const handle = await fs.open(folder, "r");
    try {
      await handle.sync();
    } finally {
      await handle.close();
    }
  } catch {
    // The file is in place; a disk that cannot flush folders is no reason to call the save failed.
  }
}

/** Hidden, so that it is not taken for a walk if the power goes before the rename. Names have at most 255 bytes. */
function temporaryName(name: string): string {
  let start = name;
  while (Buffer.byteLength(start) > 200) start = start.slice(0, -1);
  return `.${start}.${randomBytes(6).toString("hex")}.tmp`;
}
