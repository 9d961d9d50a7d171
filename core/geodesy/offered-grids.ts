/** The grids one may ask for by name instead of by definition: old datums that many paper maps still carry. */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import { britishGrid, type Grid, type Nad27Region, nad27Utm } from "./grid.ts";
import { utmZoneOf } from "./utm-zone.ts";

export const OFFERED_GRIDS = ["nad27", "nad27-alaska", "nad27-canada", "british"] as const;
export type OfferedGrid = (typeof OFFERED_GRIDS)[number];

export const isOfferedGrid = (name: string): name is OfferedGrid =>
  (OFFERED_GRIDS as readonly string[]).includes(name);

const REGIONS: Readonly<Record<Exclude<OfferedGrid, "british">, Nad27Region>> = {
  nad27: "contiguous",
  "nad27-alaska": "alaska",
  "nad27-canada": "canada",
};

/**
 * The grid of that name. NAD27 has one for each UTM zone.
 * @param zone UTM zone; null takes that of the place
 * @param near the place; null when only its coordinates in the grid are known
 * @throws Fault "bad-argument" for a zone that does not exist or is known from nowhere, or a place at the poles
 */
export function offeredGrid(name: OfferedGrid, zone: number | null, near: LonLat | null): Grid {
  if (name === "british") {
    if (zone !== null) throw new Fault("bad-argument", "The British grid has no zones.");
    return britishGrid();
  }
  const chosen = zone ?? (near ? utmZoneOf(near) : null);
  if (chosen === null)
    throw new Fault("bad-argument", "The UTM zone is missing.", name, `Write it after the name: ${name}:13.`);
  if (zone === null && chosen === 0)
    throw new Fault(
      "bad-argument",
      "There is no UTM zone at the poles.",
      name,
      "UTM runs from 80° S to 84° N.",
    );
  return nad27Utm(chosen, REGIONS[name]);
}
