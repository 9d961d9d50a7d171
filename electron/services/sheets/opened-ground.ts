import { archiveFacts } from "../../../core/map/archive-facts.ts";
import { type SettledRoles, settleRoles } from "../../../core/map/set-roles.ts";
import { type Ground, openGround } from "../../../core/terrain/ground.ts";
import { type FileSource, openFileSource } from "../file-source.ts";
import { GROUND_DECODERS } from "../ground-decoders.ts";
import type { PressOrder } from "./press-messages.ts";

/** A map's ground, and what a person should know of the roles they set for it. */
export interface GroundAsSet extends Pick<SettledRoles, "notices"> {
  readonly ground: Ground;
}

interface Opened extends GroundAsSet {
  readonly key: string;
  readonly files: readonly FileSource[];
}

let opened: Opened | null = null;

/**
 * The ground of a map in the roles set by hand: the one opened last stays open, with what was read and worked out of it,
 * until its files or roles change.
 */
export async function openedGround(map: NonNullable<PressOrder["map"]>): Promise<GroundAsSet> {
  const archive = await openFileSource(map.path);
  // A map without its heights is a map still.
  const terrain = map.terrainPath ? await openFileSource(map.terrainPath).catch(() => null) : null;
  const files = terrain ? [archive, terrain] : [archive];
  const key = JSON.stringify([map.path, map.roles, ...files.map(({ tag }) => tag)]);
  if (opened?.key === key) {
    for (const file of files) await file.close();
    return opened;
  }
  try {
    const { roles, notices }: SettledRoles =
      map.roles.length > 0
        ? settleRoles(map.roles, await archiveFacts(archive, GROUND_DECODERS))
        : { roles: null, notices: [] };
    const ground = await openGround(archive, terrain, GROUND_DECODERS, roles);
    for (const file of opened?.files ?? []) await file.close();
    opened = { key, ground, notices, files };
    return opened;
  } catch (thrown) {
    for (const file of files) await file.close();
    throw thrown;
  }
}
