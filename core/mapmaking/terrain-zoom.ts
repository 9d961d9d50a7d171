/**
 * How fine terrain tiles have to be for a model.
 *
 * Measured with heights rounded to 1/8 m, as the share of 200,000 random places where reading the tiles differs from
 * the model's bilinear surface by more than 0.5 m, the 99th percentile, the largest difference, and the archive's size:
 *
 * | model                                  | pixel  | > 0.5 m | 99 %   | most   | size    |
 * | -------------------------------------- | ------ | ------- | ------ | ------ | ------- |
 * | 30 m, steep mountains, 1197 × 643      | 15.8 m | 3.1 %   | 0.73 m | 4.2 m  | 3.1 MB  |
 * |                                        | 7.9 m  | 0.11 %  | 0.28 m | 1.1 m  | 9.5 MB  |
 * | 90 m, wooded hills, 403 × 344          | 30.7 m | 7.2 %   | 1.14 m | 3.4 m  | 1.2 MB  |
 * |                                        | 15.4 m | 0.7 %   | 0.44 m | 1.7 m  | 3.7 MB  |
 * | 90 m, mountains and plain, 848 × 543   | 31.6 m | 5.4 %   | 1.29 m | 11.8 m | 3.7 MB  |
 * |                                        | 15.8 m | 0.8 %   | 0.45 m | 4.6 m  | 10.9 MB |
 *
 * Each zoom more halves the error and takes three times the bytes. The error does not vanish at any zoom, because the
 * model's surface has kinks where the pixels have none; what is left lies at sharp crests and gullies, where a model
 * of such cells is off by far more. So the coarsest zoom is taken that keeps 99 of 100 places within half a metre.
 */
import type { ElevationGrid } from "./elevation-grid.ts";
import { type Placement, worldX, worldY } from "./grid-placement.ts";
import type { Pace } from "./pace.ts";
import { fitWindow, TERRAIN_TILE } from "./terrain-fit.ts";

/** Metres round the equator of the sphere that web map tiles are drawn on. */
const AROUND_M = 2 * Math.PI * 6_378_137;
/** A reading this far off counts as wrong, metres; this share of readings may be. */
const WRONG_M = 0.5;
const MOST_WRONG = 0.01;
/** Pixels are never smaller than this share of a cell, and never more than this many. */
const FINEST = 1 / 8;
const MOST_PIXELS = 4e8;
/** Windows looked at, and their width in pixels: enough to see a hundredth part. */
const WINDOWS = 40;
const WINDOW = 48;

/** Pixel spacing on the ground, metres. */
export const pixelM = (zoom: number, latDeg: number): number =>
  (AROUND_M * Math.cos((latDeg * Math.PI) / 180)) / (TERRAIN_TILE * 2 ** zoom);

/** Share of places in windows spread over the model where tiles of this zoom would be off by more than `WRONG_M`. */
async function shareWrong(
  grid: ElevationGrid,
  placement: Placement,
  zoom: number,
  pace: Pace,
): Promise<number> {
  let wrong = 0;
  let windows = 0;
  for (let k = 0; k < WINDOWS; k++) {
    await pace.step(0);
    // Places that fill a square evenly, the same on every run: M. Roberts' R2 sequence, from the plastic number.
    const column = ((0.5 + k * 0.7548776662466927) % 1) * (grid.columns - 1);
    const row = ((0.5 + k * 0.5698402909980532) % 1) * (grid.rows - 1);
    const [lon, lat] = placement.toLonLat(column, row);
    const world = TERRAIN_TILE * 2 ** zoom;
    const x = Math.floor(worldX(lon) * world) - WINDOW / 2;
    const y = Math.floor(worldY(lat) * world) - WINDOW / 2;
    const fitted = fitWindow(grid, placement, zoom, x, y, WINDOW);
    if (!fitted.known) continue;
    wrong += fitted.shareWrong(WRONG_M);
    windows++;
  }
  return windows > 0 ? wrong / windows : 0;
}

/** The coarsest zoom whose tiles read within half a metre of the model in 99 of 100 places. */
export async function terrainZoomFor(grid: ElevationGrid, placement: Placement, pace: Pace): Promise<number> {
  const latDeg = (placement.bounds[1] + placement.bounds[3]) / 2;
  const zoomOf = (spacingM: number): number =>
    Math.max(0, Math.ceil(Math.log2(pixelM(0, latDeg) / spacingM)));
  const finest = zoomOf(placement.cellM * FINEST);
  const pixels = (zoom: number): number =>
    grid.columns * grid.rows * (placement.cellM / pixelM(zoom, latDeg)) ** 2;
  for (let zoom = zoomOf(placement.cellM); ; zoom++) {
    const last = zoom >= finest || pixels(zoom + 1) > MOST_PIXELS;
    if (last || (await shareWrong(grid, placement, zoom, pace)) <= MOST_WRONG) return zoom;
  }
}
