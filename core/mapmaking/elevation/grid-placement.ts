/**
 * Where a grid lies on earth: grid positions (column, row) to and from the square world of web map tiles,
 * whose x and y run from 0 at 180° W and the north edge to 1.
 * Source of the projection: spherical Mercator as in EPSG method 1024 (Popular Visualisation Pseudo-Mercator).
 */
import proj4 from "proj4";
import { DEG } from "../../units/angle.ts";
import { type Bbox, bboxOf, type LonLat } from "../../units/position.ts";
import { Fault } from "../../fault.ts";
import { inverse } from "../../geodesy/geodesic.ts";
import { type ElevationGrid, WGS84 } from "./elevation-grid.ts";

/** The poles lie at infinity in this projection: the square ends here. */
const MOST_LATITUDE = 85.051129;

export const worldX = (lon: number): number => lon / 360 + 0.5;
export const worldY = (lat: number): number =>
  0.5 - Math.asinh(Math.tan(Math.max(-MOST_LATITUDE, Math.min(MOST_LATITUDE, lat)) * DEG)) / (2 * Math.PI);
export const lonOf = (x: number): number => (x - 0.5) * 360;
export const latOf = (y: number): number => Math.atan(Math.sinh((0.5 - y) * 2 * Math.PI)) / DEG;

export interface Placement {
  /** Column and row, fractions allowed, to degrees WGS 84. */
  toLonLat(column: number, row: number): LonLat;
  /** Degrees WGS 84 to column and row, also outside the grid. */
  toGrid(lonLat: LonLat): readonly [column: number, row: number];
  /**
   * Column, row pairs within the grid to world x, y pairs. Within blocks of 16 cells the projection is taken as
   * bilinear: at 30 m a cell that is under 1 cm off.
   */
  toWorld(coords: Float64Array, out: Float64Array): void;
  /** The box around the outermost samples. */
  readonly bounds: Bbox;
  /** North–south spacing of samples in the middle of the grid, metres. */
  readonly cellM: number;
  /** Ground covered by one sample of a row, square metres. */
  cellAreaM2(row: number): number;
}

const BLOCK = 16;

/**
 * @throws Fault "bad-elevation" when the grid reaches places that do not exist, or crosses 180°
 */
export function placeGrid(
  grid: Omit<ElevationGrid, "heights" | "filled"> & Partial<ElevationGrid>,
): Placement {
  const { columns, rows, origin, step, crs, key } = grid;
  const projection = proj4(crs.proj, WGS84.proj);
  const toLonLat = (column: number, row: number): LonLat => {
    const [lon, lat] = projection.forward([origin[0] + column * step[0], origin[1] + row * step[1]]);
    return [lon, lat];
  };
  const toGrid = (lonLat: LonLat): readonly [number, number] => {
    const [x, y] = projection.inverse([lonLat[0], lonLat[1]]);
    return [(x - origin[0]) / step[0], (y - origin[1]) / step[1]];
  };

  const nodesAcross = Math.ceil((columns - 1) / BLOCK) + 1;
  const nodesDown = Math.ceil((rows - 1) / BLOCK) + 1;
  const nodes = new Float64Array(2 * nodesAcross * nodesDown);
  for (let j = 0; j < nodesDown; j++)
    for (let i = 0; i < nodesAcross; i++) {
      const [lon, lat] = toLonLat(i * BLOCK, j * BLOCK);
      nodes[2 * (j * nodesAcross + i)] = worldX(lon);
      nodes[2 * (j * nodesAcross + i) + 1] = worldY(lat);
    }

  const bounds = bboxOf(edgePositions(columns, rows, toLonLat));
  const sane =
    bounds &&
    bounds.every(Number.isFinite) &&
    Math.abs(bounds[0]) <= 180 &&
    Math.abs(bounds[2]) <= 180 &&
    bounds[2] - bounds[0] < 90;
  if (!sane || bounds[1] < -MOST_LATITUDE || bounds[3] > MOST_LATITUDE)
    throw new Fault(
      "bad-elevation",
      `With ${crs.name} the model would reach from ${bounds?.join(", ") ?? "nowhere"} degrees, which is no place a map can be made of.`,
      key,
      "Check its coordinate system and origin; models that cross 180° have to be cut there.",
    );

  const middle = toLonLat((columns - 1) / 2, (rows - 1) / 2);
  const cellM = inverse(middle, toLonLat((columns - 1) / 2, (rows + 1) / 2)).distanceM;
  const areas = new Float64Array(rows);
  for (let row = 0; row < rows; row++) {
    const [c, r] = [(columns - 1) / 2, row];
    // Distances over one cell east and one south; worked out every 16 rows, as latitude changes them little by little.
    areas[row] =
      row % BLOCK
        ? areas[row - 1]!
        : inverse(toLonLat(c, r), toLonLat(c + 1, r)).distanceM *
          inverse(toLonLat(c, r), toLonLat(c, r + 1)).distanceM;
  }

  return {
    toLonLat,
    toGrid,
    bounds,
    cellM,
    cellAreaM2: (row) => areas[row]!,
    toWorld(coords, out) {
      for (let k = 0; k + 1 < coords.length; k += 2) {
        const u = coords[k]! / BLOCK;
        const v = coords[k + 1]! / BLOCK;
        const i = Math.min(nodesAcross - 2, Math.max(0, Math.floor(u)));
        const j = Math.min(nodesDown - 2, Math.max(0, Math.floor(v)));
        const fu = u - i;
        const fv = v - j;
        const a = 2 * (j * nodesAcross + i);
        const b = a + 2 * nodesAcross;
        for (let axis = 0; axis < 2; axis++) {
          const top = nodes[a + axis]! * (1 - fu) + nodes[a + 2 + axis]! * fu;
          const bottom = nodes[b + axis]! * (1 - fu) + nodes[b + 2 + axis]! * fu;
          out[k + axis] = top * (1 - fv) + bottom * fv;
        }
      }
    },
  };
}

function* edgePositions(columns: number, rows: number, toLonLat: Placement["toLonLat"]): Generator<LonLat> {
  for (let c = 0; c < columns; c++) {
    yield toLonLat(c, 0);
    yield toLonLat(c, rows - 1);
  }
  for (let r = 1; r + 1 < rows; r++) {
    yield toLonLat(0, r);
    yield toLonLat(columns - 1, r);
  }
}
