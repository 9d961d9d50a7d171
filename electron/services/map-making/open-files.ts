/** Files that a map is made of, opened, with those that belong beside them. */
import { readdir, readFile } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { ElevationFile } from "../../../core/mapmaking/elevation/elevation-model.ts";
import type { FeatureFile } from "../../../core/files/feature-file.ts";
import { type FileSource, openFileSource } from "../file-source.ts";

/** Files to read features from, and the means to close them, with those beside them that were opened on the way. */
export interface OpenFeatures {
  readonly files: readonly FeatureFile[];
  readonly close: () => Promise<void>;
}

/** @throws Fault "no-file" … naming the file */
export async function openFeatures(paths: readonly string[]): Promise<OpenFeatures> {
  const opened: FileSource[] = [];
  const close = async (): Promise<void> => {
    for (const file of opened) await file.close();
  };
  const open = async (path: string): Promise<FeatureFile> => {
    const source = await openFileSource(path);
    opened.push(source);
    return {
      key: source.key,
      sizeBytes: source.sizeBytes,
      read: (offset, length, signal) => source.read(offset, length, signal),
      async beside(ending) {
        const wanted = `${basename(path).replace(/\.[^.]*$/, "")}.${ending}`.toLowerCase();
        const found = (await readdir(dirname(path))).find((name) => name.toLowerCase() === wanted);
        return found === undefined ? null : await open(join(dirname(path), found));
      },
    };
  };
  try {
    const files: FeatureFile[] = [];
    for (const path of paths) files.push(await open(path));
    return { files, close };
  } catch (error) {
    await close();
    throw error;
  }
}

/** An elevation file, and for an ASCII grid the .prj file beside it. */
async function openOne(path: string): Promise<ElevationFile & FileSource> {
  const source = await openFileSource(path);
  if (!/\.asc$/i.test(path)) return source;
  const stem = path.replace(/\.asc$/i, "");
  for (const name of [`${stem}.prj`, `${stem}.PRJ`]) {
    const prj = await readFile(name, "utf8").catch(() => null);
    if (prj !== null) return { ...source, prj };
  }
  return source;
}

/** @throws Fault "no-file" … naming the file; none is open then */
export async function openElevation(paths: readonly string[]): Promise<{
  readonly files: readonly ElevationFile[];
  readonly close: () => Promise<void>;
}> {
  const files: (ElevationFile & FileSource)[] = [];
  const close = async (): Promise<void> => {
    for (const file of files) await file.close();
  };
  try {
    for (const path of paths) files.push(await openOne(path));
    return { files, close };
  } catch (error) {
    await close();
    throw error;
  }
}
