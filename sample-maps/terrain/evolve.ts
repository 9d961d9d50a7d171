/**
 * The long history of the ground: a gentle swell lifted unevenly while rivers cut and soil creeps, first on a coarse
 * grid, then twice refined. Coarse first because valleys must reach the divides before detail is worth having.
 */
import { gridOf, newGrid, resampled, sampleSmooth, smoothstep, type HeightGrid } from "./height-grid.ts";
import { creep } from "./hillslope.ts";
import { octaveNoise } from "./noise.ts";
import * as recipe from "./recipe.ts";
import { streamPowerStep } from "./stream-power.ts";

/** Cells of the coarse grid; each refinement doubles them. */
const COARSE = { columns: 280, rows: 218, cellM: 48 };

const STAGES = [
  { refine: 1, steps: 260, years: 4000 },
  { refine: 2, steps: 30, years: 2500, bumpM: 3, bumpWaveM: 260, bendM: 210, bendWaveM: 1900 },
  { refine: 4, steps: 14, years: 1200, bumpM: 1.2, bumpWaveM: 130, bendM: 60, bendWaveM: 600 },
] as const;

/** Diffusivity of the soil, square metres a year: with the erodibility it sets how far apart streams begin. */
const CREEP_M2_PER_YEAR = 0.06;

/**
 * Ground of the padded sheet, metres before the vertical scale; frame: the padded sheet's south-west corner.
 * @param finest last refinement to run: 1, 2 or 4 cells to the coarse one (48, 24 or 12 m)
 */
export function evolve(seed: number, finest: 1 | 2 | 4): HeightGrid {
  const pad = recipe.PAD_M;
  const dale = recipe.DALE.map(([east, north]): recipe.Place => [east + pad, north + pad]);
  let grid = gridOf(newGrid(COARSE.columns, COARSE.rows, COARSE.cellM), (east, north) => {
    const swell = octaveNoise(seed, east, north, 5200, 4);
    const rough = octaveNoise(seed + 7, east, north, 900, 4, 0.6);
    return 250 + 90 * swell + 60 * smoothstep(0, 2500, recipe.distanceTo(dale, east, north)) + 15 * rough;
  });
  for (const stage of STAGES) {
    if (stage.refine > finest) break;
    if ("bumpM" in stage) grid = refined(grid, seed, stage);
    const uplift = gridOf(grid, (east, north) => {
      const hills = 0.42 + 0.8 * octaveNoise(seed + 3, east, north, 4400, 3);
      const away = 0.6 * smoothstep(200, 2400, recipe.distanceTo(dale, east, north));
      return Math.max(4e-5, 3.2e-4 * (hills + away));
    }).z;
    const erodibility = gridOf(
      grid,
      (east, north) => 1.6e-5 * (1 + 0.75 * octaveNoise(seed + 5, east, north, 2600, 3)),
    ).z;
    // Rounded moors here, close-set gullies there: one diffusivity everywhere combs every hillside alike.
    const ease = gridOf(grid, (east, north) =>
      Math.min(2, Math.max(0.35, 1.05 + 1.1 * octaveNoise(seed + 9, east, north, 2300, 3))),
    ).z;
    const mouths = mouthsOf(grid);
    const hold = (): void => mouths.forEach((height, cell) => (grid.z[cell] = height));
    hold();
    for (let step = 0; step < stage.steps; step++) {
      streamPowerStep(grid, {
        years: stage.years,
        uplift,
        erodibility,
        outlets: [...mouths.keys()],
        seed: seed + step,
      });
      creep(grid, CREEP_M2_PER_YEAR * stage.years, ease);
      hold();
    }
  }
  return grid;
}

/** Twice the cells, with a little roughness to start new gullies from, and bent sideways out of the grid's directions. */
function refined(
  coarse: HeightGrid,
  seed: number,
  stage: { refine: number; bumpM: number; bumpWaveM: number; bendM: number; bendWaveM: number },
): HeightGrid {
  const fine = resampled(coarse, COARSE.columns * stage.refine, COARSE.rows * stage.refine);
  const bumpy = gridOf(
    fine,
    (east, north, i) =>
      (fine.z[i] as number) +
      stage.bumpM * octaveNoise(seed + 31 * stage.refine, east, north, stage.bumpWaveM, 3, 0.55),
  );
  const bend = (s: number, east: number, north: number): number =>
    stage.bendM * octaveNoise(s, east, north, stage.bendWaveM, 3);
  return gridOf(bumpy, (east, north) =>
    sampleSmooth(
      bumpy,
      east + bend(seed + 900 + stage.refine, east, north),
      north + bend(seed + 950 + stage.refine, east, north),
    ),
  );
}

/** Cells where water leaves the padded sheet, with the height they are held at. */
export function mouthsOf(grid: HeightGrid): Map<number, number> {
  const { columns, rows, cellM } = grid;
  const mouths = new Map<number, number>();
  const daleMouth = (recipe.DALE[0] as recipe.Place)[0] + recipe.PAD_M;
  for (let column = 0; column < columns; column++)
    if (Math.abs((column + 0.5) * cellM - daleMouth) < 60)
      mouths.set((rows - 1) * columns + column, recipe.DALE_MOUTH_M);
  for (let row = 0; row < rows; row++)
    if (Math.abs((rows - row - 0.5) * cellM - recipe.WEST_MOUTH_NORTH_M - recipe.PAD_M) < 60)
      mouths.set(row * columns, recipe.WEST_MOUTH_M);
  return mouths;
}
