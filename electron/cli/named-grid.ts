/** The grid a person names on the command line. */
import { Fault } from "../../core/fault.ts";
import { type Grid, gridOf } from "../../core/geodesy/grid.ts";
import {
  inOfferedArea,
  isOfferedGrid,
  OFFERED_GRIDS,
  offeredAreaTitle,
  offeredGrid,
} from "../../core/geodesy/offered-grids.ts";
import type { NamedDefinition } from "../../core/sheet/sheet-job.ts";
import type { LonLat } from "../../core/units/position.ts";
import { settingsFolder } from "../services/folders.ts";

export interface NamedGrid {
  /** @param near the place, for a grid that has zones; null when only its coordinates are known */
  at(near: LonLat | null): Grid;
  /** What to say about a place the grid was not made for; null when nothing. */
  caution(at: LonLat): string | null;
}

/**
 * A grid that is offered ("nad27", "nad27-alaska:6" with its zone, "british"), one added in the settings by its
 * name, or a PROJ definition.
 * @throws Fault "bad-argument" for a definition or zone that cannot be, or a name there is not
 */
export async function namedGrid(spec: string): Promise<NamedGrid> {
  const [, name = "", zone] = /^([a-z\d-]+)(?::(\d+))?$/i.exec(spec.trim()) ?? [];
  const offered = name.toLowerCase();
  if (isOfferedGrid(offered)) {
    const asked = zone === undefined ? null : Number(zone);
    // A zone that does not exist is said before any place is read.
    if (asked !== null) offeredGrid(offered, asked, null);
    return {
      at: (near) => offeredGrid(offered, asked, near),
      caution: (at) =>
        inOfferedArea(offered, at)
          ? null
          : `The place lies outside the area (${offeredAreaTitle(offered)}) the constants of this grid were made for: its coordinates may be off by far more than stated.`,
    };
  }
  const grid = isDefinition(spec) ? gridOf("The grid given", spec) : await addedGrid(spec);
  return { at: () => grid, caution: () => null };
}

/**
 * The same as plain data, for pages.
 * @throws Fault "bad-argument" for a definition or zone that cannot be, or a name there is not
 */
export async function namedDefinition(spec: string): Promise<NamedDefinition> {
  const grid = await namedGrid(spec);
  const name = spec.trim().toLowerCase().replace(/:\d+$/, "");
  if (isOfferedGrid(name)) return { name, definition: spec.trim().toLowerCase() };
  if (isDefinition(spec)) return { name: grid.at(null).title, definition: spec };
  return await addedDefinition(spec);
}

const isDefinition = (spec: string): boolean => /[+[]|^EPSG:/i.test(spec);

async function addedGrid(name: string): Promise<Grid> {
  const found = await addedDefinition(name);
  return gridOf(found.name, found.definition);
}

async function addedDefinition(name: string): Promise<NamedDefinition> {
  // The settings take longer to open than the rest of the command, and are seldom needed.
  const { openConfSettings } = await import("../services/conf-settings.ts");
  const found = openConfSettings(settingsFolder())
    .get()
    .grids.find((grid) => grid.name === name);
  if (found) return found;
  throw new Fault(
    "bad-argument",
    `There is no grid called “${name}”.`,
    null,
    `Name one of ${OFFERED_GRIDS.join(", ")}, one added in the settings, or give a PROJ string such as +proj=utm +zone=32 +datum=WGS84.`,
  );
}
