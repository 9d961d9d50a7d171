/** Bogs and fens: nearly level ground that much water drains to, or that lies on a broad saddle. */
import { blurred, gridOf, smoothstep } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";
import { isoAreas, type Area } from "./iso-areas.ts";
import { steepnessOf } from "./ground.ts";
import { eased, simplifiedRing } from "./line-shape.ts";

const LEAST_M2 = 14_000;

export function wetlandsOf(terrain: Terrain, seed: number): Area[] {
  const { grid, shore } = terrain;
  const steep = blurred(steepnessOf(grid), 2);
  const wet = gridOf(grid, (east, north, i) => {
    const level = 1 - smoothstep(0.01, 0.1, steep.z[i] as number);
    const patches = octaveNoise(seed, east, north, 650, 4, 0.5);
    return Math.min(level - 0.86 + 0.8 * patches, 0.2 * ((shore[i] as number) - 0.1));
  });
  return isoAreas(wet, LEAST_M2).map(
    (area) => area.map((ring) => simplifiedRing(eased(ring, 2), 1.6)) as unknown as Area,
  );
}
