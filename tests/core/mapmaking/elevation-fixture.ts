/** Models and GDAL's values from tests/fixtures/elevation; see the README there. */
import { readFileSync } from "node:fs";
import type { ElevationGrid } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { readElevation } from "../../../core/mapmaking/elevation/read-elevation.ts";
import { pace } from "../../../core/mapmaking/pace.ts";

export const MODELS = ["jacksboro-srtm3-epsg4326", "bigtujunga-crop-srtm30m-epsg32611"] as const;
export type Model = (typeof MODELS)[number];

const folder = new URL("../../fixtures/elevation/", import.meta.url);

export function fixtureBytes(name: string): ArrayBuffer {
  return Uint8Array.from(readFileSync(new URL(name, folder))).buffer;
}

export const readModel = (model: Model): Promise<ElevationGrid> =>
  readElevation(fixtureBytes(`${model}.tif`), `${model}.tif`);

export interface ContourValues {
  readonly levels: readonly (readonly [level: number, lines: number, lengthCells: number])[];
  readonly vertices: readonly (readonly [level: number, column: number, row: number])[];
}
export const contourValues = (model: Model): ContourValues =>
  JSON.parse(new TextDecoder().decode(fixtureBytes(`${model}.contours-20m.json`))) as ContourValues;

export type HeightValue = readonly [lon: number, lat: number, heightM: number];
export const heightValues = (model: Model): readonly HeightValue[] =>
  JSON.parse(new TextDecoder().decode(fixtureBytes(`${model}.heights.json`))) as HeightValue[];

/** Work without progress or cancelling. */
export const quietly = pace({});
