/** The reserve's ground from the seed: history, scars, valley floors, lake, small bumps, then cut to the sheet. */
import { drainageOf, type Drainage } from "./drainage.ts";
import { evolve, mouthsOf } from "./evolve.ts";
import { blurred, gridOf, newGrid, sampleSmooth, smoothstep, type HeightGrid } from "./height-grid.ts";
import { creep } from "./hillslope.ts";
import { openOutlet, scoopLake } from "./lake-basin.ts";
import { octaveNoise } from "./noise.ts";
import * as recipe from "./recipe.ts";
import { cutScars } from "./scars.ts";
import { layValleyFloors } from "./valley-floor.ts";

/** The sheet's ground and water. Arrays are one value a cell of `grid`. */
export interface Terrain {
  /** Metres, rounded to a centimetre: every machine gets the same digits. */
  readonly grid: HeightGrid;
  readonly lakeLevelM: number;
  /** Below zero on the lake. */
  readonly shore: Float64Array;
  /** Cell that each cell drains to; −1 where water leaves the sheet. */
  readonly receiver: Int32Array;
  /** Ground drained, square metres, with what lies beyond the sheet. */
  readonly areaM2: Float64Array;
}

/** @param finest 4 for the real sheet (12 m cells); 2 or 1 for a quick coarse one */
export function makeTerrain(seed: number = recipe.SEED, finest: 1 | 2 | 4 = 4): Terrain {
  const raw = evolve(seed, finest);
  const bend = (s: number, east: number, north: number): number => 78 * octaveNoise(s, east, north, 640, 3);
  // One last bend, after the water has stopped cutting: on a grid it cuts in eight directions only.
  const grid = gridOf(raw, (east, north) => {
    const height = sampleSmooth(
      raw,
      east + bend(seed + 801, east, north),
      north + bend(seed + 802, east, north),
    );
    return recipe.BASE_M + recipe.VERTICAL * (height - recipe.DALE_MOUTH_M);
  });
  const mouths = [...mouthsOf(grid).keys()];
  cutScars(grid, [
    { heightM: 248, dip: [0.004, 0.006], reachM: 32, seed: seed + 60 },
    { heightM: 333, dip: [0.004, 0.006], reachM: 44, seed: seed + 61 },
    { heightM: 428, dip: [0.004, 0.006], reachM: 40, seed: seed + 62 },
  ]);
  creep(grid, 24);
  layValleyFloors(grid, drainageOf(grid, mouths));
  creep(grid, 220);
  const lake = scoopLake(grid, drainageOf(grid, mouths), {
    eastM: recipe.LAKE[0] + recipe.PAD_M,
    northM: recipe.LAKE[1] + recipe.PAD_M,
    nearM: recipe.LAKE_NEAR_M,
    farM: recipe.LAKE_FAR_M,
    deepM: recipe.LAKE_DEEP_M,
    uneven: (east, north) => 0.55 * octaveNoise(seed + 70, east, north, 900, 3),
  });
  roughen(grid, lake.shore, seed);
  openOutlet(grid, lake);
  const drainage = drainageOf(grid, mouths);
  for (let i = 0; i < grid.z.length; i++) grid.z[i] = Math.round((drainage.filled[i] as number) * 100) / 100;
  return cutToSheet(grid, drainage, lake.shore, Math.round(lake.levelM * 100) / 100);
}

/** Hummocks of under a metre, none on the water: without them contours are smoother than ground ever is. */
function roughen(grid: HeightGrid, shore: Float64Array, seed: number): void {
  const dry = blurred(
    gridOf(grid, (_e, _n, i) => smoothstep(0, 2, shore[i] as number)),
    1,
  );
  const bumps = gridOf(grid, (east, north) => octaveNoise(seed + 400, east, north, 150, 3, 0.5));
  for (let i = 0; i < grid.z.length; i++)
    if ((shore[i] as number) > 0)
      grid.z[i] = (grid.z[i] as number) + 0.9 * (dry.z[i] as number) * (bumps.z[i] as number);
}

function cutToSheet(grid: HeightGrid, drainage: Drainage, shore: Float64Array, lakeLevelM: number): Terrain {
  const pad = Math.round(recipe.PAD_M / grid.cellM);
  const sheet = newGrid(grid.columns - 2 * pad, grid.rows - 2 * pad, grid.cellM);
  const outer = (i: number): number =>
    (Math.floor(i / sheet.columns) + pad) * grid.columns + (i % sheet.columns) + pad;
  const inner = (cell: number): number => {
    const column = (cell % grid.columns) - pad;
    const row = Math.floor(cell / grid.columns) - pad;
    return column < 0 || row < 0 || column >= sheet.columns || row >= sheet.rows
      ? -1
      : row * sheet.columns + column;
  };
  const cut = (from: Float64Array): Float64Array => sheet.z.map((_v, i) => from[outer(i)] as number);
  return {
    grid: { ...sheet, z: cut(grid.z) },
    lakeLevelM,
    shore: cut(shore),
    receiver: Int32Array.from({ length: sheet.z.length }, (_v, i) =>
      inner(drainage.receiver[outer(i)] as number),
    ),
    areaM2: cut(drainage.areaM2),
  };
}
