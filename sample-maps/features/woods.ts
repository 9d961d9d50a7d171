/** Woods where trees would be left standing: steep valley sides and dale bottoms below the tree line, ragged edges. */
import { blurred, gridOf, smoothstep } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import type { Place } from "../terrain/recipe.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { isoAreas, type Area } from "./iso-areas.ts";
import { aboveStream, eachCell, steepnessOf } from "./ground.ts";
import { eased, simplifiedRing } from "./line-shape.ts";

/** Metres: no wood grows above. */
const TREE_LINE_M = 433;
const LEAST_M2 = 15_000;

/** @param cleared tells ground where no wood may grow of itself */
export function woodsOf(terrain: Terrain, seed: number, cleared: (place: Place) => boolean): Area[] {
  const { grid, shore } = terrain;
  const steep = blurred(steepnessOf(grid), 3);
  const valley = blurred(aboveStream(terrain, 600_000), 4);
  const standing = gridOf(grid, (east, north, i) => {
    const patches = octaveNoise(seed, east, north, 1300, 6, 0.56);
    const sides = 0.3 * smoothstep(0.1, 0.26, steep.z[i] as number);
    const high = 0.6 * smoothstep(TREE_LINE_M - 110, TREE_LINE_M, grid.z[i] as number);
    const moor = 0.22 * smoothstep(50, 130, valley.z[i] as number);
    return patches + sides - high - moor - 0.13;
  });
  eachCell(grid, (cell, east, north) => {
    if ((standing.z[cell] as number) > 0 && cleared([east, north])) standing.z[cell] = -0.02;
  });
  // Water keeps its bank clear: the shore would else be hidden under leaves.
  for (let i = 0; i < standing.z.length; i++)
    standing.z[i] = Math.min(standing.z[i] as number, 0.1 * ((shore[i] as number) - 1.2));
  return isoAreas(standing, LEAST_M2).map(
    (area) => area.map((ring) => simplifiedRing(eased(ring, 2), 1.6)) as unknown as Area,
  );
}
