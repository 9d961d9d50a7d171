/** The ground a command works out a walk on. */
import type { Ground } from "../../core/terrain/ground.ts";
import type { Walk } from "../../core/walk/walk.ts";
import { findMap, openGroundAt } from "./map-files.ts";

/** The map asked for, else the one the walk was planned on when it is in the map case. */
export async function groundOf(
  walk: Walk,
  mapPath: string | undefined,
): Promise<{ readonly ground: Ground | null; readonly note: string | null }> {
  if (mapPath !== undefined) return { ground: await openGroundAt(mapPath), note: null };
  if (walk.mapId === null)
    return {
      ground: null,
      note: "No map was given, and the walk names none: heights, crossings and aids are left out.",
    };
  const found = await findMap(walk.mapId);
  if (found !== null) return { ground: await openGroundAt(found), note: null };
  return {
    ground: null,
    note: "The map this walk was planned on is not in the map case: heights, crossings and aids are left out.",
  };
}
