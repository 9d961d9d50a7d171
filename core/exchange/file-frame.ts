/** What the figures of a file count in, where that is not degrees on WGS 84. */
import { Fault } from "../fault.ts";
import { fromGrid, type Grid, gridOf } from "../geodesy/grid.ts";
import { type OfferedGrid, offeredAreaTitle, offeredGrid } from "../geodesy/offered-grids.ts";
import { DEG } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";

export interface FileFrame {
  /** Degrees on the datum of the definition, or easting and northing in the grid it defines. */
  readonly figures: "degrees" | "grid";
  readonly title: string;
  /** PROJ string of a grid on that datum. */
  readonly definition: string;
  /** How far positions may be off through the datum, metres; null when nobody has stated it. */
  readonly accuracyM: number | null;
  /** Metres in the unit of the figures; null is the grid's own. */
  readonly unitM: number | null;
}

/** Easting and northing in a grid. @param unitM of the figures, metres; null is the grid's own */
export const gridFrame = (grid: Grid, unitM: number | null = null): FileFrame => ({
  figures: "grid",
  title: grid.title,
  definition: grid.definition,
  accuracyM: grid.accuracyM,
  unitM,
});

/** Latitude and longitude on one of the datums offered. */
export function datumFrame(name: OfferedGrid): FileFrame {
  // The zone is of no matter: only the datum is taken.
  const { definition, accuracyM } = offeredGrid(name, name === "british" ? null : 1, null);
  const title = `${name === "british" ? "OSGB36" : "NAD27"}, ${offeredAreaTitle(name)}`;
  return { figures: "degrees", title, definition, accuracyM, unitM: null };
}

/** Semi-major axes, metres. Source: the ellipsoids of the EPSG dataset (7008, 7001, 7004, 7022, 7019, 7030). */
const SEMI_MAJOR_M: Readonly<Record<string, number>> = {
  clrk66: 6_378_206.4,
  airy: 6_377_563.396,
  bessel: 6_377_397.155,
  intl: 6_378_388,
  GRS80: 6_378_137,
  WGS84: 6_378_137,
};

/**
 * From the figures of a file, x before y, to a position on WGS 84.
 * @throws Fault "bad-argument" for a definition that cannot be read or leaves its datum open; the function it gives throws
 *   "out-of-range" where there is no such place
 */
export function fromFrame(frame: FileFrame): (x: number, y: number) => LonLat {
  if (frame.figures === "grid") {
    const grid = gridOf(frame.title, frame.definition);
    const unitM = frame.unitM ?? grid.projection.unitM;
    return (x, y) => fromGrid(grid, [x * unitM, y * unitM]);
  }
  const ellipsoid = /\+(?:ellps|datum)=(\S+)/.exec(frame.definition)?.[1] ?? "";
  const radiusM = SEMI_MAJOR_M[ellipsoid];
  if (radiusM === undefined)
    throw new Fault(
      "bad-argument",
      "The ellipsoid of this datum is not known here.",
      frame.definition,
      "Choose another datum.",
    );
  const datum = frame.definition.match(/\+(?:datum|ellps|towgs84)=\S+/g) ?? [];
  // An equidistant cylindrical projection counts the ellipsoid's own degrees, a semi-major axis to each radian.
  const flat = gridOf(frame.title, `+proj=eqc ${datum.join(" ")} +units=m`);
  return (lon, lat) => fromGrid(flat, [lon * DEG * radiusM, lat * DEG * radiusM]);
}
