import { readFile } from "node:fs/promises";
import { basename, resolve } from "node:path";
import { Fault } from "../../core/fault.ts";
import { type Roles, rolesOf } from "../../core/map/set-roles.ts";
import { convertMbtiles, needsConverting } from "../services/archives/import-archive.ts";
import { rewriteArchive } from "../services/archives/rewrite-archive.ts";
import { fileFault } from "../services/file-faults.ts";
import { terrainPathOf } from "./map-files.ts";
import { checkFolderOf } from "./product.ts";
import { progressLine } from "./progress-line.ts";
import { say } from "./say.ts";

export interface ConvertArchiveOptions {
  readonly roles?: string;
  readonly title?: string;
}

/** `convert-archive IN OUT`: MBTiles into PMTiles, or a PMTiles archive written anew, with roles in its metadata. */
export async function convertArchive(
  path: string,
  out: string,
  { roles: rolesFile, title }: ConvertArchiveOptions,
): Promise<void> {
  terrainPathOf(out);
  await checkFolderOf(out);
  const roles = rolesFile === undefined ? undefined : await readRoles(rolesFile);
  const isMbtiles = needsConverting(path);
  if (isMbtiles && roles)
    throw new Fault(
      "bad-argument",
      "Roles cannot be given for an MBTiles archive.",
      basename(path),
      "Convert it first, then convert the .pmtiles with --roles.",
    );
  const stop = new AbortController();
  const interrupt = (): void => stop.abort();
  process.once("SIGINT", interrupt).once("SIGTERM", interrupt);
  const line = progressLine(process.stderr);
  try {
    const options = {
      signal: stop.signal,
      title,
      progress: ({ stage, done }: { readonly stage: string; readonly done: number }): void => {
        if (done < 1) line.show(`${stage} … ${Math.floor(done * 100)} %`);
      },
    };
    const { tiles, archive } = isMbtiles
      ? await convertMbtiles(path, resolve(out), options)
      : await rewriteArchive(path, resolve(out), { ...options, roles });
    line.clear();
    say(
      `note: ${tiles.tiles} tiles, ${archive.contents} different, zooms ${tiles.minZoom}–${tiles.maxZoom}${tiles.empty > 0 ? `; ${tiles.empty} without content left out` : ""}`,
    );
  } finally {
    line.clear();
    process.off("SIGINT", interrupt).off("SIGTERM", interrupt);
  }
}

/** Roles as `inspect --format json` tells them: its whole output, or its member `roles` alone. */
async function readRoles(path: string): Promise<Roles> {
  const text = await readFile(path, "utf8").catch((error: unknown) => {
    throw fileFault(error, path, "could not be read");
  });
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    value = null;
  }
  const member: unknown = (value as { readonly roles?: unknown } | null)?.roles ?? value;
  const roles = rolesOf(member);
  if (roles && Object.keys(roles).length > 0) return roles;
  throw new Fault(
    "bad-argument",
    "The file holds no roles.",
    basename(path),
    "Write what “inspect MAP --format json” tells as roles, and put it right.",
  );
}
