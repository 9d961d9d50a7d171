/**
 * Heights as the elevation model itself has them, read back from terrain tiles.
 *
 * The ground between four samples of a model is bilinear in the model's own grid, which lies askew to the pixels of
 * map tiles; interpolating between pixels cuts off the kinks along the model's rows and columns. Where the archive
 * tells the grid, and each cell of it holds at least two by two pixels, the cell's surface follows exactly from the
 * heights of four pixels inside it, up to their rounding.
 */
import proj4, { type Converter } from "proj4";
import { meridianRadius, parallelRadius } from "../geodesy/ellipsoid.ts";
import { latToShare, lonToShare } from "../map/tile-grid.ts";
import { DEG } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import type { SamplesAround } from "./elevation.ts";
import { gridCrossings } from "./grid-crossings.ts";

/** The grid a terrain archive was made from, as told in its metadata. */
export interface ModelGrid {
  /** A proj4 definition of its coordinate system. */
  readonly proj: string;
  /** Where its north-western sample lies, in that system. */
  readonly origin: readonly [x: number, y: number];
  /** To the next column and to the next row. */
  readonly step: readonly [x: number, y: number];
  readonly columns: number;
  readonly rows: number;
}

/** The grid in a metadata member; null when it is none, or in a system that is not understood. */
export function modelGridOf(member: unknown): ModelGrid | null {
  if (typeof member !== "object" || member === null) return null;
  const { proj, origin, step, columns, rows } = member as Record<string, unknown>;
  const pair = (v: unknown): v is readonly [number, number] =>
    Array.isArray(v) && v.length === 2 && v.every((n) => Number.isFinite(n));
  const count = (v: unknown): v is number => typeof v === "number" && Number.isInteger(v) && v >= 2;
  if (typeof proj !== "string" || !pair(origin) || !pair(step) || !count(columns) || !count(rows))
    return null;
  if (!(step[0] > 0) || !(step[1] < 0)) return null;
  try {
    proj4(proj, "EPSG:4326");
  } catch {
    return null;
  }
  return { proj, origin, step, columns, rows };
}

/** Pixels this far outside a cell still count as in it, cells: rounding of the projection. */
const EDGE = 1e-3;

/** Cells under some twenty legs of a few kilometres. */
const SURFACES_KEPT = 20_000;

export class ModelCells {
  readonly #grid: ModelGrid;
  readonly #worldPx: number;
  readonly #sample: (x: number, y: number) => number;
  readonly #projection: Converter;
  // A profile has many places in one cell, and while its point is dragged the next one goes over the same cells.
  readonly #surfaces = new Map<number, readonly [number, number, number, number] | null>();

  /**
   * @param worldPx pixels round the world at the tiles' zoom
   * @param sample height of the pixel in a column and row of the world, NaN where there is none
   */
  constructor(grid: ModelGrid, worldPx: number, sample: (x: number, y: number) => number) {
    this.#grid = grid;
    this.#worldPx = worldPx;
    this.#sample = sample;
    this.#projection = proj4(grid.proj, "EPSG:4326");
  }

  /** To be called when pixels have come or gone. */
  forget(): void {
    this.#surfaces.clear();
  }

  /**
   * The model's bilinear height: NaN on voids and more than half a cell outside, within that the nearest edge's.
   * @returns null where the cell's surface cannot be worked out, because too few of its pixels are known
   */
  at(position: LonLat): number | null {
    const [column, row] = this.#inGrid(position);
    return this.#heightAt(column, row);
  }

  /** The nearest sample and its eight neighbours, NaN beyond the model's edge; null where too few pixels are known. */
  samplesAround(position: LonLat): SamplesAround | null {
    const { columns, rows, origin, step } = this.#grid;
    const [c, r] = this.#inGrid(position).map(Math.round) as [number, number];
    const heights: number[] = [];
    for (let dr = -1; dr <= 1; dr++)
      for (let dc = -1; dc <= 1; dc++) {
        const inside = c + dc >= 0 && r + dr >= 0 && c + dc < columns && r + dr < rows;
        const height = inside ? this.#heightAt(c + dc, r + dr) : Number.NaN;
        if (height === null) return null;
        heights.push(height);
      }
    const place = (column: number, row: number): number[] =>
      this.#projection.forward([origin[0] + column * step[0], origin[1] + row * step[1]]);
    const [eastOf, northOf] = [parallelRadius(position[1]) * DEG, meridianRadius(position[1]) * DEG];
    const apart = (a: number[], b: number[]): [number, number] => [
      ((b[0]! - a[0]!) * eastOf) / 2,
      ((b[1]! - a[1]!) * northOf) / 2,
    ];
    return {
      heights,
      column: apart(place(c - 1, r), place(c + 1, r)),
      row: apart(place(c, r - 1), place(c, r + 1)),
    };
  }

  #heightAt(column: number, row: number): number | null {
    const { columns, rows } = this.#grid;
    if (!(column >= -0.5 && row >= -0.5 && column <= columns - 0.5 && row <= rows - 0.5)) return Number.NaN;
    const c = Math.min(columns - 2, Math.max(0, Math.floor(column)));
    const r = Math.min(rows - 2, Math.max(0, Math.floor(row)));
    const cell = r * columns + c;
    let surface = this.#surfaces.get(cell);
    if (surface === undefined) {
      if (this.#surfaces.size >= SURFACES_KEPT) this.#surfaces.clear();
      this.#surfaces.set(cell, (surface = this.#surfaceOf(c, r)));
    }
    if (!surface) return null;
    const [h, across, down, twist] = surface;
    const u = Math.min(1, Math.max(0, column - c));
    const v = Math.min(1, Math.max(0, row - r));
    return h + across * u + down * v + twist * u * v;
  }

  /** Where the way from one place to another crosses from cell to cell, shares of the way; the way is straight in the grid. */
  bends(from: LonLat, to: LonLat): number[] {
    return gridCrossings(this.#inGrid(from), this.#inGrid(to));
  }

  /** Column and row of a place; whole numbers are samples. */
  #inGrid([lon, lat]: LonLat): readonly [column: number, row: number] {
    const { origin, step } = this.#grid;
    const [x, y] = this.#projection.inverse([lon, lat]);
    return [(x - origin[0]) / step[0], (y - origin[1]) / step[1]];
  }

  /** Where a sample lies, in pixels of the world; whole numbers are pixel centres. */
  #pixelOf(column: number, row: number): readonly [number, number] {
    const { origin, step } = this.#grid;
    const [lon, lat] = this.#projection.forward([origin[0] + column * step[0], origin[1] + row * step[1]]);
    return [lonToShare(lon) * this.#worldPx - 0.5, latToShare(lat) * this.#worldPx - 0.5];
  }

  /** Height at the cell's first corner, change across, change down, and twist, from the pixels nearest to its corners. */
  #surfaceOf(c: number, r: number): readonly [number, number, number, number] | null {
    const [x0, y0] = this.#pixelOf(c, r);
    const [x1, y1] = this.#pixelOf(c + 1, r);
    const [x2, y2] = this.#pixelOf(c, r + 1);
    const [ax, ay, bx, by] = [x1 - x0, y1 - y0, x2 - x0, y2 - y0];
    const area = ax * by - ay * bx;
    if (!(Math.abs(area) > 1e-9)) return null;
    FAR.fill(Infinity);
    const [left, right] = [Math.min(x0, x1, x2, x1 + bx), Math.max(x0, x1, x2, x1 + bx)];
    const [top, bottom] = [Math.min(y0, y1, y2, y1 + by), Math.max(y0, y1, y2, y1 + by)];
    for (let y = Math.ceil(top); y <= bottom; y++)
      for (let x = Math.ceil(left); x <= right; x++) {
        const u = ((x - x0) * by - (y - y0) * bx) / area;
        const v = ((y - y0) * ax - (x - x0) * ay) / area;
        if (u < -EDGE || v < -EDGE || u > 1 + EDGE || v > 1 + EDGE) continue;
        for (let k = 0; k < 4; k++) {
          const [du, dv] = [u - (k & 1), v - (k >> 1)];
          const far = du * du + dv * dv;
          if (!(far < FAR[k]!)) continue;
          FAR[k] = far;
          EQUATIONS.set([1, u, v, u * v, this.#sample(x, y)], 5 * k);
        }
      }
    return FAR[0] === Infinity ? null : bilinearThrough(EQUATIONS);
  }
}

/** Of the pixels nearest to a cell's four corners: how far they are, squared, and their equations; used cell after cell. */
const FAR = new Float64Array(4);
const EQUATIONS = new Float64Array(20);

/**
 * Coefficients of 1, u, v and u·v through four places, by elimination with pivots; null when they do not tell them apart.
 * @param m four rows of five: 1, u, v, u·v and the height; changed
 */
function bilinearThrough(m: Float64Array): readonly [number, number, number, number] | null {
  for (let k = 0; k < 4; k++) {
    let best = k;
    for (let i = k + 1; i < 4; i++) if (Math.abs(m[5 * i + k]!) > Math.abs(m[5 * best + k]!)) best = i;
    const pivot = m[5 * best + k]!;
    // Pixels are at least a twentieth of a cell apart where this is used; smaller pivots mean the same pixel twice.
    if (Math.abs(pivot) < 1e-4) return null;
    if (best !== k)
      for (let j = k; j < 5; j++) {
        const swapped = m[5 * k + j]!;
        m[5 * k + j] = m[5 * best + j]!;
        m[5 * best + j] = swapped;
      }
    for (let i = 0; i < 4; i++) {
      if (i === k) continue;
      const share = m[5 * i + k]! / pivot;
      for (let j = k; j < 5; j++) m[5 * i + j]! -= share * m[5 * k + j]!;
    }
  }
  return [m[4]! / m[0]!, m[9]! / m[6]!, m[14]! / m[12]!, m[19]! / m[18]!];
}
