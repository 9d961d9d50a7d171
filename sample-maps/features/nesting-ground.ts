/** Closed ground around a cliff where birds nest: everything within some distance of it, with an uneven edge. */
import { gridOf, type HeightGrid } from "../terrain/height-grid.ts";
import { octaveNoise } from "../terrain/noise.ts";
import { isoAreas, type Area } from "./iso-areas.ts";
import { nearestOn, simplifiedRing, type Line } from "./line-shape.ts";

export function nestingGround(grid: HeightGrid, cliff: Line, withinM: number, seed: number): Area[] {
  const near = gridOf(grid, (east, north) => {
    const first = cliff[0] as readonly [number, number];
    // Far from the cliff the exact distance does not matter; most cells are spared the look along it.
    if (Math.abs(east - first[0]) > 2000 || Math.abs(north - first[1]) > 2000) return -1000;
    const uneven = 45 * octaveNoise(seed, east, north, 420, 2);
    return withinM + uneven - nearestOn(cliff, [east, north]).distanceM;
  });
  return isoAreas(near, 10_000).map((area) => area.map((ring) => simplifiedRing(ring, 6)) as unknown as Area);
}
