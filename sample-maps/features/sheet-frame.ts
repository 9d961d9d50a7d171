/**
 * Where the sheet is laid on the globe. The reserve does not exist: its place is borrowed from the open North Pacific,
 * 46° N 133° W, where no land lies that it could be taken for, and where the compass points some 15° east of true north.
 */
import { utmProjection } from "../../core/geodesy/utm.ts";
import { crsOfEpsg } from "../../core/mapmaking/elevation/grid-crs.ts";
import type { ElevationGrid, GridCrs } from "../../core/mapmaking/elevation/elevation-grid.ts";
import type { LonLat } from "../../core/units/position.ts";
import type { HeightGrid } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";

/** UTM zone 8 north; the sheet's south-west corner in it. The whole sheet lies east of the zone's middle meridian. */
const ZONE = 8;
const EPSG = 32608;
export const CORNER: Place = [632_000, 5_130_000];

const projection = utmProjection(ZONE, "N");

/** To 1e-7°, about a centimetre: the digits then do not depend on how an engine rounds its sines. */
const round7 = (degrees: number): number => Math.round(degrees * 1e7) / 1e7;

export function toLonLat([eastM, northM]: Place): LonLat {
  const [lon, lat] = projection.inverse([CORNER[0] + eastM, CORNER[1] + northM]);
  return [round7(lon), round7(lat)];
}

export function toPlace(lonLat: LonLat): Place {
  const [easting, northing] = projection.forward(lonLat);
  return [easting - CORNER[0], northing - CORNER[1]];
}

/** The sheet's heights as map making takes them. */
export function elevationGrid(grid: HeightGrid, key: string): ElevationGrid {
  return {
    key,
    columns: grid.columns,
    rows: grid.rows,
    heights: Float32Array.from(grid.z),
    origin: [CORNER[0] + grid.cellM / 2, CORNER[1] + (grid.rows - 0.5) * grid.cellM],
    step: [grid.cellM, -grid.cellM],
    crs: crsOfEpsg(EPSG) as GridCrs,
  };
}
