/** The grids one may ask for by name instead of by definition: old datums that many paper maps still carry. */
import { Fault } from "../fault.ts";
import type { Bbox, LonLat } from "../units/position.ts";
import { britishGrid, type Grid, NAD27_REGIONS, type Nad27Region, nad27Utm } from "./grid.ts";
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

/**
 * Where each grid's constants hold.
 * Source: the areas of use of the transformations 1173, 1176, 1172 and 1314 in the EPSG dataset of PROJ 9.1.
 */
const AREAS: Readonly<Record<OfferedGrid, Bbox>> = {
  nad27: [-124.79, 24.41, -66.91, 49.38],
  "nad27-alaska": [-168.26, 54.34, -129.99, 71.4],
  "nad27-canada": [-141.01, 40, -44, 83.17],
  british: [-8.82, 49.79, 1.92, 60.94],
};

/**
 * Whether a place lies in the box around the country a grid's datum was shifted for: elsewhere its accuracy is not
 * what is stated.
 */
export function inOfferedArea(name: OfferedGrid, [lon, lat]: LonLat): boolean {
  const [west, south, east, north] = AREAS[name];
  return lon >= west && lon <= east && lat >= south && lat <= north;
}

export const offeredAreaTitle = (name: OfferedGrid): string =>
  name === "british" ? "Great Britain" : NAD27_REGIONS[REGIONS[name]].title;
