/** The grids a person may have positions written and read in, by name: those offered and those added in the settings. */
import { type Grid, gridOf } from "../../core/geodesy/grid.ts";
import {
  inOfferedArea,
  isOfferedGrid,
  offeredAreaTitle,
  offeredGrid,
} from "../../core/geodesy/offered-grids.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { Settings } from "../../electron/contract.ts";
import { findWords } from "../words/find-words.ts";

export type GridChoice = Pick<Settings, "grids" | "gridName">;

export interface KnownGrid {
  readonly name: string;
  /** @param near the place, for a grid that has zones. @throws Fault "bad-argument" where there is no zone */
  at(near: LonLat | null): Grid;
  /** What to say about a place the grid was not made for; null when nothing. */
  caution(at: LonLat): string | null;
}

const grids = new Map<string, Grid>();

/**
 * @returns null when there is no grid of that name
 * @throws Fault "bad-argument" for a definition that cannot be read
 */
export function knownGrid(name: string, added: GridChoice["grids"]): KnownGrid | null {
  if (isOfferedGrid(name))
    return {
      name,
      at: (near) => offeredGrid(name, null, near),
      caution: (at) => (inOfferedArea(name, at) ? null : findWords.outsideGrid(offeredAreaTitle(name))),
    };
  const found = added.find((grid) => grid.name === name);
  if (!found) return null;
  const key = `${found.name}\n${found.definition}`;
  const grid = grids.get(key) ?? gridOf(found.name, found.definition);
  grids.set(key, grid);
  return { name, at: () => grid, caution: () => null };
}

/** "good to about 3.5 m (who says so)", or that nobody says. */
export const gridAccuracy = ({ accuracyM, accuracySource }: Grid): string =>
  accuracyM === null ? findWords.accuracyUnknown : findWords.accuracy(accuracyM, accuracySource);
