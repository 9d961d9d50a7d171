/** What the rules for features ask of the ground: steepness, height above the valley, as grids. */
import { eastOf, northOf, type HeightGrid } from "../terrain/height-grid.ts";
import type { Terrain } from "../terrain/reserve-terrain.ts";

/** Rise over run at each cell, from the eight around it (B. K. P. Horn, "Hill shading and the reflectance map", 1981). */
export function steepnessOf(grid: HeightGrid): HeightGrid {
  const { columns, rows, cellM, z } = grid;
  const steep = new Float64Array(z.length);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const at = (dc: number, dr: number): number =>
        z[
          Math.min(rows - 1, Math.max(0, row + dr)) * columns +
            Math.min(columns - 1, Math.max(0, column + dc))
        ] as number;
      const east =
        (at(1, -1) + 2 * at(1, 0) + at(1, 1) - at(-1, -1) - 2 * at(-1, 0) - at(-1, 1)) / (8 * cellM);
      const north =
        (at(-1, -1) + 2 * at(0, -1) + at(1, -1) - at(-1, 1) - 2 * at(0, 1) - at(1, 1)) / (8 * cellM);
      steep[row * columns + column] = Math.sqrt(east * east + north * north);
    }
  return { columns, rows, cellM, z: steep };
}

/**
 * Metres above the stream that each cell drains to.
 * @param channelM2 catchment from which a stream counts
 */
export function aboveStream({ grid, receiver, areaM2 }: Terrain, channelM2: number): HeightGrid {
  const bed = new Float64Array(grid.z.length).fill(NaN);
  const path: number[] = [];
  for (let start = 0; start < bed.length; start++) {
    let cell = start;
    while (Number.isNaN(bed[cell])) {
      path.push(cell);
      const to = receiver[cell] as number;
      if (to < 0 || (areaM2[cell] as number) >= channelM2) {
        bed[cell] = grid.z[cell] as number;
        break;
      }
      cell = to;
    }
    const level = bed[cell] as number;
    for (let k = path.pop(); k !== undefined; k = path.pop()) if (Number.isNaN(bed[k])) bed[k] = level;
  }
  return { ...grid, z: grid.z.map((height, i) => height - (bed[i] as number)) };
}

/** Calls with every cell's index and place. */
export function eachCell(
  grid: HeightGrid,
  visit: (cell: number, eastM: number, northM: number) => void,
): void {
  for (let row = 0, i = 0; row < grid.rows; row++)
    for (let column = 0; column < grid.columns; column++, i++)
      visit(i, eastOf(grid, column), northOf(grid, row));
}
