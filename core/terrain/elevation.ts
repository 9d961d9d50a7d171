import type { Bbox, LonLat } from "../units/position.ts";

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
  /** Bilinear height, metres above the map's datum; NaN on voids, outside, and where nothing was prepared. */
  at(lonLat: LonLat): number;
}
