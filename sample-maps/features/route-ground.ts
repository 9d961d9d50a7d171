/** The ground as a way-builder sees it, on cells twice the terrain's: heights, water to cross, rock and lake to go round. */
import { cellAt, eastOf, gridOf, northOf, resampled, type HeightGrid } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { steepnessOf } from "./ground.ts";
import type { Stream } from "./streams.ts";
import { apart } from "./line-shape.ts";

export interface RouteGround {
  readonly grid: HeightGrid;
  /** No way at all: lake and its bank. */
  readonly blocked: Uint8Array;
  /** Metres of easy walking that it costs to step into the cell's water; 0 on dry land. */
  readonly ford: Float64Array;
  /** Extra cost per metre on wet banks: ways keep a little off the water they follow. */
  readonly bank: Float64Array;
  /** Going underfoot, 0.65 (smooth) to 1.5 (tussocks, stones), times length. */
  readonly rough: Float64Array;
  /** Rise over run, for side slopes and rock. */
  readonly steep: Float64Array;
}

/**
 * @param bridges places where water is crossed dry-shod
 * @param closed tells ground that no way may enter
 */
export function routeGround(
  terrain: Terrain,
  streams: readonly Stream[],
  bridges: readonly Place[],
  closed: (place: Place) => boolean,
  seed: number,
): RouteGround {
  const fine = terrain.grid;
  const grid = resampled(fine, fine.columns / 2, fine.rows / 2);
  const blocked = new Uint8Array(grid.z.length);
  for (let cell = 0; cell < blocked.length; cell++) {
    const column = (cell % grid.columns) * 2;
    const row = Math.floor(cell / grid.columns) * 2;
    if (closed([eastOf(fine, column), northOf(fine, row)])) blocked[cell] = 1;
    for (let dr = -1; dr <= 2; dr++)
      for (let dc = -1; dc <= 2; dc++) {
        const r = Math.min(fine.rows - 1, Math.max(0, row + dr));
        const c = Math.min(fine.columns - 1, Math.max(0, column + dc));
        if ((terrain.shore[r * fine.columns + c] as number) <= 0) blocked[cell] = 1;
      }
  }
  const ford = new Float64Array(grid.z.length);
  for (const { line, class: kind } of streams)
    for (let i = 1; i < line.length; i++) {
      const a = line[i - 1] as Place;
      const b = line[i] as Place;
      const steps = Math.max(1, Math.ceil(apart(a, b) / 6));
      for (let k = 0; k <= steps; k++) {
        const east = a[0] + ((b[0] - a[0]) * k) / steps;
        const north = a[1] + ((b[1] - a[1]) * k) / steps;
        const cell = cellAt(grid, east, north);
        const area = terrain.areaM2[cellAt(fine, east, north)] as number;
        ford[cell] = Math.max(
          ford[cell] as number,
          kind === "river" ? 700 : 25 + 25 * Math.sqrt(Math.min(area, 9e6) / 1e6),
        );
      }
    }
  for (let cell = 0; cell < ford.length; cell++) {
    const here: Place = [eastOf(grid, cell % grid.columns), northOf(grid, Math.floor(cell / grid.columns))];
    if (bridges.some((bridge) => apart(bridge, here) < 40)) ford[cell] = Math.min(ford[cell] as number, 1);
  }
  const bank = new Float64Array(ford.length);
  for (let cell = 0; cell < bank.length; cell++)
    if ((ford[cell] as number) > 1)
      for (let dr = -2; dr <= 2; dr++)
        for (let dc = -2; dc <= 2; dc++) {
          const beside = cell + dr * grid.columns + dc;
          const wet = Math.max(Math.abs(dr), Math.abs(dc)) < 2 ? 1.6 : 0.5;
          if (beside >= 0 && beside < bank.length) bank[beside] = Math.max(bank[beside] as number, wet);
        }
  const rough = gridOf(grid, (east, north) =>
    Math.min(1.5, Math.max(0.65, 1 + 0.95 * octaveNoise(seed, east, north, 290, 3))),
  ).z;
  return { grid, blocked, ford, bank, rough, steep: steepnessOf(grid).z };
}
