/**
 * Grids besides UTM: any PROJ definition, and two old datums many paper maps still carry, with the accuracy their
 * makers state. Shift grids are not at hand, so a datum comes as constants (+towgs84); a definition that leaves its
 * datum open is refused instead of being off by a hundred metres unsaid.
 */
import { Fault } from "../fault.ts";
import type { LonLat } from "../units/position.ts";
import {
  type EastNorth,
  type GridFactors,
  gridFactors,
  type Projection,
  projectionOf,
} from "./projection.ts";

export interface Grid {
  readonly title: string;
  /** PROJ string. */
  readonly definition: string;
  readonly projection: Projection;
  /** How far positions may be off through the datum, metres; null when nobody has stated it. */
  readonly accuracyM: number | null;
  /** Who states it, and what it means. */
  readonly accuracySource: string | null;
}

export interface GridPosition extends GridFactors {
  readonly eastingM: number;
  readonly northingM: number;
}

/**
 * A grid by its definition, given by the user or here.
 * @throws Fault "bad-argument" for a definition that cannot be read, is of latitude and longitude, or leaves its
 *   datum open
 */
export function gridOf(
  title: string,
  definition: string,
  accuracy: { readonly m: number; readonly source: string } | null = null,
): Grid {
  const projection = projectionOf(definition);
  if (!projection.datumKnown)
    throw new Fault(
      "bad-argument",
      "The grid's definition does not say how its datum lies to WGS 84: positions would be off by up to hundreds of metres.",
      definition,
      "Add +towgs84=… with the datum's constants, or choose one of the datums offered.",
    );
  return {
    title,
    definition,
    projection,
    accuracyM: accuracy?.m ?? null,
    accuracySource: accuracy?.source ?? null,
  };
}

/**
 * Coordinates in a grid, with convergence and scale against WGS 84.
 * @throws Fault "bad-argument" for a position that is none, "out-of-range" where the grid has no value
 */
export function toGrid(grid: Grid, lonLat: LonLat): GridPosition {
  const [eastingM, northingM] = grid.projection.forward(lonLat);
  return { eastingM, northingM, ...gridFactors(grid.projection, lonLat) };
}

/** @throws Fault "bad-argument" for figures that are not finite, "out-of-range" where there is no such place */
export const fromGrid = (grid: Grid, at: EastNorth): LonLat => grid.projection.inverse(at);

/** Mean shifts of the North American Datum of 1927 by region. Source: NIMA TR8350.2, in the EPSG dataset as below. */
export const NAD27_REGIONS = {
  contiguous: { title: "contiguous United States", shift: "-8,160,176", accuracyM: 10, epsg: 1173 },
  alaska: { title: "Alaska", shift: "-5,135,172", accuracyM: 12, epsg: 1176 },
  canada: { title: "Canada", shift: "-10,158,187", accuracyM: 20, epsg: 1172 },
} as const;
export type Nad27Region = keyof typeof NAD27_REGIONS;

/**
 * UTM on NAD27, as printed on older American topographic maps.
 * @throws Fault "bad-argument" for a zone that does not exist
 */
export function nad27Utm(zone: number, region: Nad27Region = "contiguous"): Grid {
  if (!Number.isInteger(zone) || zone < 1 || zone > 60)
    throw new Fault("bad-argument", `UTM zone ${zone} does not exist: zones run from 1 to 60.`);
  const { title, shift, accuracyM, epsg } = NAD27_REGIONS[region];
  return gridOf(
    `NAD27 UTM zone ${zone} (${title})`,
    `+proj=utm +zone=${zone} +ellps=clrk66 +towgs84=${shift} +units=m`,
    {
      m: accuracyM,
      source: `EPSG dataset, transformation ${epsg}: mean shift for ${title}, ${accuracyM} m`,
    },
  );
}

/** The national grid of Great Britain on OSGB36. */
export function britishGrid(): Grid {
  return gridOf(
    "OSGB36 National Grid",
    "+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +ellps=airy " +
      "+towgs84=446.448,-125.157,542.06,0.15,0.247,0.842,-20.489 +units=m",
    { m: 3.5, source: "Ordnance Survey, A Guide to Coordinate Systems in Great Britain: up to 3.5 m (95 %)" },
  );
}
