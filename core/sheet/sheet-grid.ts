/** The grid a sheet is drawn in, from what a job says of it. */
import { type Grid, gridOf } from "../geodesy/grid.ts";
import { isOfferedGrid, offeredGrid } from "../geodesy/offered-grids.ts";
import type { LonLat } from "../units/position.ts";
import type { NamedDefinition } from "./sheet-job.ts";

/**
 * A definition is one of the offered grids, with its zone where it has zones ("british", "nad27:12"), or what `gridOf` takes.
 * @param near for an offered grid with zones, when none is named
 * @returns null for UTM
 * @throws Fault "bad-argument" for a definition that cannot be
 */
export function sheetGrid(named: NamedDefinition | null, near: LonLat | null): Grid | null {
  if (!named) return null;
  const [, name = "", zone] = /^([a-z\d-]+)(?::(\d+))?$/i.exec(named.definition.trim()) ?? [];
  const offered = name.toLowerCase();
  return isOfferedGrid(offered)
    ? offeredGrid(offered, zone === undefined ? null : Number(zone), near)
    : gridOf(named.name, named.definition);
}
