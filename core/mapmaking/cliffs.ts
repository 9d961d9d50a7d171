/**
 * Ground too steep to walk, as areas: a stand-in where no survey of cliffs is at hand. A model smooths cliffs: what is
 * steep in it is steep on the ground, but low or narrow cliffs are not in it at all.
 */
import { nestRings } from "./features-in/rings.ts";
import type { Surface } from "./flow.ts";
import { outlines } from "./outlines.ts";

/** Steeper than any slope of soil or scree lies. Common practice, no source. */
export const CLIFF_DEG = 45;
/** Samples farther apart than this smooth nearly every cliff away, metres. Common practice, no source. */
export const COARSEST_FOR_CLIFFS_M = 40;
/** Fewer steep samples together than this are left out as noise. No source. */
const LEAST_SAMPLES = 4;

/**
 * Areas of samples at least `leastDeg` steep.
 * Slope by Horn's formula (B. K. P. Horn, Hill shading and the reflectance map, Proc. IEEE 69, 1981, 14–47).
 * @param room of the grid's size, written over
 * @returns polygons, each an outer ring and its holes, in columns and rows of the grid; none for a coarse model
 */
export function cliffAreas(
  surface: Surface,
  leastDeg = CLIFF_DEG,
  room: Uint8Array = new Uint8Array(surface.heights.length),
): Float64Array[][] {
  const { columns, rows, cellM } = surface;
  if (cellM > COARSEST_FOR_CLIFFS_M) return [];
  const steep = steepSamples(surface, leastDeg, room.fill(0));
  dropSmall(steep, columns, rows);
  return nestRings(outlines(steep, columns, rows));
}

function steepSamples(
  { columns, rows, heights, cellM, cellWidthM }: Surface,
  leastDeg: number,
  steep: Uint8Array,
): Uint8Array {
  const least = Math.tan((leastDeg * Math.PI) / 180) ** 2;
  for (let row = 1; row + 1 < rows; row++) {
    const across = 8 * cellWidthM(row);
    const down = 8 * cellM;
    for (let column = 1; column + 1 < columns; column++) {
      const i = row * columns + column;
      const [n, s] = [i - columns, i + columns];
      const east = heights[n + 1]! + 2 * heights[i + 1]! + heights[s + 1]!;
      const west = heights[n - 1]! + 2 * heights[i - 1]! + heights[s - 1]!;
      const north = heights[n - 1]! + 2 * heights[n]! + heights[n + 1]!;
      const south = heights[s - 1]! + 2 * heights[s]! + heights[s + 1]!;
      // A void makes this NaN, which is not steep.
      if (((east - west) / across) ** 2 + ((south - north) / down) ** 2 >= least) steep[i] = 1;
    }
  }
  return steep;
}

function dropSmall(steep: Uint8Array, columns: number, rows: number): void {
  const seen = new Uint8Array(steep.length);
  const stack: number[] = [];
  for (let start = 0; start < steep.length; start++) {
    if (!steep[start] || seen[start]) continue;
    const found: number[] = [];
    stack.push(start);
    seen[start] = 1;
    for (let i = stack.pop(); i !== undefined; i = stack.pop()) {
      if (found.length < LEAST_SAMPLES) found.push(i);
      const column = i % columns;
      for (const next of [
        i - columns,
        i + columns,
        column > 0 ? i - 1 : -1,
        column + 1 < columns ? i + 1 : -1,
      ])
        if (next >= 0 && next < columns * rows && steep[next] && !seen[next]) {
          seen[next] = 1;
          stack.push(next);
        }
    }
    if (found.length < LEAST_SAMPLES) for (const i of found) steep[i] = 0;
  }
}
