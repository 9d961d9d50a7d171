import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { type FileSource, openFileSource } from "../file-source.ts";
import { GROUND_DECODERS } from "../ground-decoders.ts";
import type { PressOrder } from "./press-messages.ts";

interface Opened {
  readonly key: string;
  readonly ground: Ground;
  readonly files: readonly FileSource[];
}

let opened: Opened | null = null;

/** The ground of a map: the one opened last stays open, with what was read and worked out of it, until its files change. */
export async function openedGround(map: NonNullable<PressOrder["map"]>): Promise<Ground> {
  const archive = await openFileSource(map.path);
  // A map without its heights is a map still.
  const terrain = map.terrainPath ? await openFileSource(map.terrainPath).catch(() => null) : null;
  const files = terrain ? [archive, terrain] : [archive];
  const key = JSON.stringify([map.path, ...files.map(({ tag }) => tag)]);
  if (opened?.key === key) {
    for (const file of files) await file.close();
    return opened.ground;
  }
  try {
    const ground = await openGround(archive, terrain, GROUND_DECODERS);
    for (const file of opened?.files ?? []) await file.close();
    opened = { key, ground, files };
    return ground;
  } catch (thrown) {
    for (const file of files) await file.close();
    throw thrown;
  }
}
