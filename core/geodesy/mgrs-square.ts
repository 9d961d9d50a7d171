/** From the letters of an MGRS reference back to the 100 km square they name. Source: as mgrs.ts. */
import type { UtmPosition } from "./utm.ts";
import { fromUtm, utmProjection } from "./utm.ts";
import { SQUARE_M, UPS_COLUMNS, UPS_MIN, UPS_POLE, UPS_ROWS, UTM_COLUMNS, UTM_ROWS } from "./mgrs.ts";
import { BANDS, type UtmZone } from "./utm-zone.ts";

/** South-west corner of a square in its grid. */
export type Square = UtmPosition;

/** What is wrong with the letters, in words. */
export type SquareProblem = string;

export const columnsOf = (zone: UtmZone): string => UTM_COLUMNS[((zone - 1) % 3) as 0 | 1 | 2];

/** Rows of a zone start over every 2000 km: the northing of the lowest row with this letter; −1 for no row letter. */
export function rowOffset(zone: UtmZone, letter: string): number {
  const row = UTM_ROWS.indexOf(letter);
  return row < 0 ? -1 : ((row - (zone % 2 === 0 ? 5 : 0) + 20) % 20) * SQUARE_M;
}

/** South and north edge of a band, degrees. */
export function bandEdges(band: string): readonly [southDeg: number, northDeg: number] {
  const south = BANDS.indexOf(band) * 8 - 80;
  return [south, band === "X" ? 84 : south + 8];
}

/** The UTM square of a zone, band and two letters, or what is wrong with them. */
export function utmSquare(zone: UtmZone, band: string, column: string, row: string): Square | SquareProblem {
  const columns = columnsOf(zone);
  const columnIndex = columns.indexOf(column);
  if (columnIndex < 0)
    return `Zone ${zone} has no column ${column}: its columns run from ${columns.charAt(0)} to ${columns.charAt(7)}.`;
  const offset = rowOffset(zone, row);
  if (offset < 0) return `There is no row ${row}: rows run from A to V without I and O.`;
  const hemisphere = band < "N" ? "S" : "N";
  const eastingM = (columnIndex + 1) * SQUARE_M;
  const [bandSouth, bandNorth] = bandEdges(band);
  for (let northingM = offset; northingM < 10_000_000; northingM += 2_000_000) {
    const [south, north] = latitudesOf({ zone, hemisphere, eastingM, northingM });
    // A square that only touches the band's edge has no place in it.
    if (south < bandNorth - 1e-9 && north > bandSouth + 1e-9)
      return { zone, hemisphere, eastingM, northingM };
  }
  return `Square ${column}${row} does not lie in band ${band} of zone ${zone}.`;
}

/** Lowest and highest latitude in a square. */
function latitudesOf({ zone, hemisphere, eastingM, northingM }: Square): readonly [number, number] {
  const projection = utmProjection(zone, hemisphere);
  const lats = [eastingM, eastingM + SQUARE_M].flatMap((e) =>
    [northingM, northingM + SQUARE_M].map((n) => projection.inverse([e, n])[1]),
  );
  return [Math.min(...lats), Math.max(...lats)];
}

/** The UPS square of an area letter and two letters, or what is wrong with them. */
export function upsSquare(area: "A" | "B" | "Y" | "Z", column: string, row: string): Square | SquareProblem {
  const hemisphere = area < "N" ? "S" : "N";
  const columnIndex = UPS_COLUMNS[area].indexOf(column);
  const rowIndex = UPS_ROWS[hemisphere].indexOf(row);
  if (columnIndex < 0 || rowIndex < 0) return `The polar area ${area} has no square ${column}${row}.`;
  const west = area === "A" || area === "Y";
  const eastingM = (columnIndex + (west ? UPS_MIN[hemisphere] : UPS_POLE)) * SQUARE_M;
  return { zone: 0, hemisphere, eastingM, northingM: (rowIndex + UPS_MIN[hemisphere]) * SQUARE_M };
}

/** A place inside a square, metres from its south-west corner. */
export const inSquare = (
  square: Square,
  eastM: number,
  northM: number,
): readonly [lon: number, lat: number] =>
  fromUtm({ ...square, eastingM: square.eastingM + eastM, northingM: square.northingM + northM });
