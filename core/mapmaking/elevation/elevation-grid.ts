/** Heights of the ground on a regular grid: what maps are made from. */
import { Fault } from "../../fault.ts";
import type { Bbox } from "../../units/position.ts";

/** A coordinate reference system, as proj4 takes it. */
export interface GridCrs {
  /** For people: "EPSG:32611". */
  readonly name: string;
  /** A definition as proj4 takes it: PROJ string or WKT. */
  readonly proj: string;
  /** Where the system is used, degrees WGS 84, when that is known. */
  readonly area?: Bbox;
  /** How its datum lies to WGS 84 is not known: everything may be off by hundreds of metres. */
  readonly datumUnknown?: true;
}

export interface ElevationGrid {
  /** Name of the file or script it comes from, for messages. */
  readonly key: string;
  readonly columns: number;
  readonly rows: number;
  /**
   * Metres above the model's datum, row after row from the north, each from the west: sample (column, row) is at
   * `row * columns + column`. NaN where the model has no height (a void).
   * Each value is the height at the sample's own place, which is `origin + step * (column, row)`.
   */
  readonly heights: Float32Array;
  /** Where the first (north-western) sample lies, easting or longitude first, in the units of `crs`. */
  readonly origin: readonly [x: number, y: number];
  /** From one column to the next (positive) and from one row to the next (negative: rows run southwards). */
  readonly step: readonly [x: number, y: number];
  readonly crs: GridCrs;
  /** 1 for each sample whose height was made up to fill a void; left out when there is none. */
  readonly filled?: Uint8Array;
}

export const WGS84: GridCrs = { name: "EPSG:4326", proj: "+proj=longlat +datum=WGS84 +no_defs" };

/** Larger models would need more memory than a window has: 400 million samples are 1.6 GB. */
const MOST_SAMPLES = 4e8;

/**
 * The grid, if it is one.
 * @throws Fault "bad-elevation" when sizes, steps and heights do not go together, or nothing but voids is left
 */
export function checkGrid(grid: ElevationGrid): ElevationGrid {
  const { key, columns, rows, heights, origin, step } = grid;
  const fail = (what: string, remedy: string | null = null): never => {
    throw new Fault("bad-elevation", what, key, remedy);
  };
  if (!Number.isInteger(columns) || !Number.isInteger(rows) || columns < 2 || rows < 2)
    fail(`An elevation model needs at least 2 by 2 samples, not ${columns} by ${rows}.`);
  if (columns * rows > MOST_SAMPLES)
    fail(
      `The model has ${columns} by ${rows} samples, more than can be worked on.`,
      "Cut it into smaller pieces.",
    );
  if (heights.length !== columns * rows)
    fail(
      `The model holds ${heights.length} heights where ${columns} by ${rows} samples need ${columns * rows}.`,
    );
  if (![...origin, ...step].every(Number.isFinite) || !(step[0] > 0) || !(step[1] < 0))
    fail("The model's origin and steps do not place its samples: rows must run south and columns east.");
  let known = 0;
  for (let i = 0; i < heights.length; i++) {
    const h = heights[i]!;
    if (h !== h) continue;
    known++;
    // Beyond the deepest trench and the highest summit there is no ground: a sentinel was taken for a height.
    if (h < -12_000 || h > 9_000)
      fail(
        `Sample ${i % columns}, ${Math.floor(i / columns)} is ${h} m high, which no ground on earth is.`,
        "If the number stands for missing heights, declare it as the model's nodata value; if heights are in feet, say so with --height-unit ft.",
      );
  }
  if (known === 0) fail("The model has no heights at all: every sample is missing.");
  return grid;
}
