import { basename, join } from "node:path";
import { Fault } from "../../core/fault.ts";
import { readInfo } from "../../core/map/read-info.ts";
import { type Ground, openGround } from "../../core/terrain/ground.ts";
import { rolesSetFor } from "../services/archives/remembered-roles.ts";
import { findApp } from "../services/app-folder.ts";
import { openFileSource } from "../services/file-source.ts";
import { settingsFolder, walksFolder } from "../services/folders.ts";
import { GROUND_DECODERS } from "../services/ground-decoders.ts";
import { MapCase } from "../services/map-case.ts";
import { say } from "./say.ts";

/** A map's archive as the person set its roles, with the terrain beside it when there is one. The process ends before they need closing. */
export async function openGroundAt(path: string): Promise<Ground> {
  const archive = await openFileSource(path);
  const terrain = await openFileSource(terrainPathOf(path)).catch((error: unknown) => {
    if (error instanceof Fault && error.code === "no-file") return null;
    throw error;
  });
  const { roles, notices } = await rolesSetFor(archive, settingsFolder());
  for (const notice of notices) say(`note: ${notice}`);
  return await openGround(archive, terrain, GROUND_DECODERS, roles);
}

export function terrainPathOf(path: string): string {
  if (!/\.pmtiles$/i.test(path)) {
    throw new Fault(
      "bad-archive",
      "A map is a .pmtiles archive; this is not one.",
      basename(path),
      "Name a .pmtiles file.",
    );
  }
  return path.replace(/\.pmtiles$/i, ".terrain.pmtiles");
}

/** The map of the case with an id; null when there is none. @throws Fault when it is there and cannot be read */
export async function findMap(id: string): Promise<string | null> {
  const find = async (added: readonly string[]): Promise<string | null> => {
    const maps = new MapCase({
      folders: [join(findApp().folder, "sample-maps"), walksFolder()],
      added: () => added,
      remember: () => undefined,
      readInfo: (source) => readInfo(source, GROUND_DECODERS),
    });
    return (await maps.list()).find(({ entry }) => entry.id === id && !entry.fault)?.path ?? null;
  };
  const found = await find([]);
  if (found !== null) return found;
  // The settings take longer to open than the rest of the command, and are seldom needed.
  const { openConfSettings } = await import("../services/conf-settings.ts");
  const added = openConfSettings(settingsFolder()).addedMaps();
  return added.length > 0 ? await find(added) : null;
}
