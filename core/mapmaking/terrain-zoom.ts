/**
 * How fine terrain tiles have to be for a model.
 *
 * The model's surface has a kink along each row and column of samples, and pixels lie askew to them: whoever
 * interpolates between pixels is off at every kink by up to a quarter of the pixel spacing times the change of slope,
 * and the error only halves while the bytes treble with each zoom. But where two pixels or more lie across each cell,
 * a reader that is told the model's grid can work out each cell's own surface from the pixels inside it, and has the
 * model's heights up to their rounding. So tiles are made that fine, and tell the grid, unless coarser ones read within
 * half a metre between pixels in 999 of 1000 places, as on smooth ground.
 *
 * Measured at 100,000 random places against the model's bilinear surface: largest difference, 99th percentile, size.
 *
 * | model                              | by the grid, rounded to 1/16 m   | between pixels, a zoom finer, 1/4 m |
 * | ---------------------------------- | -------------------------------- | ---------------------------------- |
 * | 30 m, mountains, 1197 × 643        | 7.9 m: 0.07 m, 0.04 m, 11.4 MB   | 4.0 m: 1.0 m, 0.17 m, 24 MB        |
 * | 90 m, wooded hills, 403 × 344      | 30.7 m: 0.12 m, 0.05 m, 1.4 MB   | 15.4 m: 2.3 m, 0.65 m, 3.1 MB      |
 * | 90 m, mountains, plain, 848 × 543  | 31.6 m: 0.16 m, 0.06 m, 4.2 MB   |                                    |
 */
import { type Placement, worldX, worldY } from "./elevation/grid-placement.ts";
import type { HeightSource } from "./height-source.ts";
import type { Pace } from "./pace.ts";
import { sampleSquare, TERRAIN_TILE, windowUnder } from "./terrain-samples.ts";

/** Metres round the equator of the sphere that web map tiles are drawn on. */
const AROUND_M = 2 * Math.PI * 6_378_137;
/** A reading this far off counts as wrong, metres; this share of readings may be. */
const WRONG_M = 0.5;
const MOST_WRONG = 0.001;
/** Pixels across a cell for its surface to be worked out from them: two at least lie in it, however it is turned. */
const PIXELS_A_CELL = 2.2;
/** What heights are rounded to: working out a cell's surface from its pixels makes rounding weigh up to three times. */
const EXACT_QUANTUM_M = 1 / 16;
const SMOOTH_QUANTUM_M = 1 / 8;
/** Windows looked at, and their width in pixels: a million readings in all. */
const WINDOWS = 100;
const WINDOW = 48;

/** Pixel spacing on the ground, metres. */
export const pixelM = (zoom: number, latDeg: number): number =>
  (AROUND_M * Math.cos((latDeg * Math.PI) / 180)) / (TERRAIN_TILE * 2 ** zoom);

/** Share of places in windows spread over the model where interpolation between pixels is off by more than `WRONG_M`. */
async function shareWrong(
  source: HeightSource,
  placement: Placement,
  zoom: number,
  pace: Pace,
): Promise<number> {
  let wrong = 0;
  let windows = 0;
  for (let k = 0; k < WINDOWS; k++) {
    await pace.step(0);
    // Places that fill a square evenly, the same on every run: M. Roberts' R2 sequence, from the plastic number.
    const column = ((0.5 + k * 0.7548776662466927) % 1) * (source.columns - 1);
    const row = ((0.5 + k * 0.5698402909980532) % 1) * (source.rows - 1);
    const [lon, lat] = placement.toLonLat(column, row);
    const world = TERRAIN_TILE * 2 ** zoom;
    const x = Math.floor(worldX(lon) * world) - WINDOW / 2;
    const y = Math.floor(worldY(lat) * world) - WINDOW / 2;
    const under = windowUnder(source, placement, zoom, x, y, WINDOW + 1);
    if (!under) continue;
    const sampled = { source, window: under, placement };
    const share = shareWrongIn(sampleSquare(sampled, zoom, x + 0.5, y + 0.5, 2 * WINDOW - 1, 0.5));
    if (share === null) continue;
    wrong += share;
    windows++;
  }
  return windows > 0 ? wrong / windows : 0;
}

/** The same for one square of heights half a pixel apart; null where it has none. */
function shareWrongIn(heights: Float32Array): number | null {
  const size = 2 * WINDOW - 1;
  let wrong = 0;
  let known = 0;
  for (let j = 0; j < size; j++)
    for (let i = 0; i < size; i++) {
      // The pixels around a place half way between them; on a pixel itself all four are the same.
      const a = (j - (j & 1)) * size + i - (i & 1);
      const right = 2 * (i & 1);
      const down = 2 * (j & 1) * size;
      const between =
        (heights[a]! + heights[a + right]! + heights[a + down]! + heights[a + down + right]!) / 4;
      const off = Math.abs(heights[j * size + i]! - between);
      if (off !== off) continue;
      known++;
      if (off > WRONG_M) wrong++;
    }
  return known > 0 ? wrong / known : null;
}

/** The coarsest zoom that is close enough between pixels, no finer than `finest`. */
async function smoothZoom(
  source: HeightSource,
  placement: Placement,
  finest: number,
  pace: Pace,
): Promise<number> {
  for (let zoom = zoomFor(placement, placement.cellM); ; zoom++)
    if (zoom >= finest || (await shareWrong(source, placement, zoom, pace)) <= MOST_WRONG) return zoom;
}

/** The coarsest zoom with pixels no larger than a spacing on the ground, metres. */
function zoomFor({ bounds }: Placement, spacingM: number): number {
  return Math.max(0, Math.ceil(Math.log2(pixelM(0, (bounds[1] + bounds[3]) / 2) / spacingM)));
}

export interface TerrainPlan {
  readonly zoom: number;
  /** Whether pixels are fine enough for a reader that is told the grid to have the model's own heights from them. */
  readonly exact: boolean;
  /** Heights are rounded to this, metres. */
  readonly quantumM: number;
}

/** What terrain tiles for a model are to be: fine enough to have its own surface back, unless coarser ones do. */
export async function terrainPlan(
  source: HeightSource,
  placement: Placement,
  pace: Pace,
): Promise<TerrainPlan> {
  const widthM = placement.cellAreaM2(Math.floor(source.rows / 2)) / placement.cellM;
  const exact = zoomFor(placement, Math.min(widthM, placement.cellM) / PIXELS_A_CELL);
  const smooth = await smoothZoom(source, placement, exact, pace);
  return smooth < exact
    ? { zoom: smooth, exact: false, quantumM: SMOOTH_QUANTUM_M }
    : { zoom: exact, exact: true, quantumM: EXACT_QUANTUM_M };
}
