import type { Bbox, LonLat } from "../units/position.ts";

/** The sample of a model nearest to a place, with its eight neighbours. */
export interface SamplesAround {
  /** Nine heights, metres, row by row as the model has them; the nearest sample's is the fifth. NaN on voids. */
  readonly heights: readonly number[];
  /** From one column to the next and from one row to the next: metres east, metres north. */
  readonly column: readonly [eastM: number, northM: number];
  readonly row: readonly [eastM: number, northM: number];
}

/** Heights of the ground, from terrain tiles. */
export interface ElevationModel {
  /** Spacing of the samples at a latitude, metres: a profile is sampled at half of it or closer. */
  spacingM(latDeg: number): number;
  prepare(bbox: Bbox, signal?: AbortSignal): Promise<void>;
  isPrepared(bbox: Bbox): boolean;
  /**
   * Where the surface may bend between two places a few kilometres apart: shares of the way, 0 to 1, rising. A model
   * that does not say is sampled evenly.
   */
  bends?(from: LonLat, to: LonLat): readonly number[];
  /** The model's own samples around a place; null where they are not known. A model that cannot tell leaves it out. */
  samplesAround?(lonLat: LonLat): SamplesAround | null;
  /**
   * Heights where meridians and parallels cross, straight from the stored samples and bilinear between them: many at
   * once at a small part of the cost of `at`, and off it by no more than what the samples round off between themselves.
   * A model that cannot leaves it out.
   * @param out receives a row of `lons.length` heights for each of `lats`, metres; NaN where unknown
   */
  readNet?(lons: Float64Array, lats: Float64Array, out: Float32Array): void;
  /** Bilinear height, metres above the map's datum; NaN on voids, outside, and where nothing was prepared. */
  at(lonLat: LonLat): number;
}
