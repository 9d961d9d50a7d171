/**
 * Cliffs: the upper edge of ground too steep to walk, drawn along a contour through the upper part of each steep patch.
 * Lines run with the lower side on their right.
 */
import { cellAt, type HeightGrid } from "../terrain/height-grid.ts";
import type { Place } from "../terrain/recipe.ts";
import { steepnessOf } from "./ground.ts";
import { isoRings } from "./iso-areas.ts";
import { eased, lengthOf, simplified, type Line } from "./line-shape.ts";

/** Rise over run from which ground counts as a cliff on cells of 12 m: 33°, which hides faces far steeper within a cell. */
const CLIFF = 0.66;
const LEAST_M = 70;

export function cliffsOf(grid: HeightGrid): Line[] {
  const steep = steepnessOf(grid);
  const patchOf = patches(steep);
  const best = new Map<number, { line: Line; score: number }>();
  const [lowest, highest] = grid.z.reduce(
    ([lo, hi], v) => [Math.min(lo, v), Math.max(hi, v)],
    [Infinity, -Infinity],
  );
  for (let level = Math.ceil(lowest / 4) * 4; level < highest; level += 4) {
    const above = { ...grid, z: grid.z.map((height) => height - level) };
    for (const ring of isoRings(above))
      for (const { line, patch } of steepRuns(ring, grid, patchOf)) {
        const length = lengthOf(line);
        const old = best.get(patch);
        // Of two lines about as long the upper one wins: a cliff is drawn at its top.
        if (length >= LEAST_M && (!old || length >= old.score * 0.9))
          best.set(patch, { line, score: Math.max(length, old?.score ?? 0) });
      }
  }
  return [...best.values()].map(({ line }) => simplified(eased(line, 2), 1.5));
}

/** Number of the steep patch that each cell belongs to; 0 for none. */
function patches(steep: HeightGrid): Int32Array {
  const { columns, rows, z } = steep;
  const patch = new Int32Array(z.length);
  let count = 0;
  for (let start = 0; start < z.length; start++) {
    if (patch[start] !== 0 || (z[start] as number) < CLIFF) continue;
    patch[start] = ++count;
    const stack = [start];
    for (let cell = stack.pop(); cell !== undefined; cell = stack.pop())
      for (let dr = -2; dr <= 2; dr++)
        for (let dc = -2; dc <= 2; dc++) {
          const column: number = (cell % columns) + dc;
          const row: number = Math.floor(cell / columns) + dr;
          if (column < 0 || row < 0 || column >= columns || row >= rows) continue;
          const next = row * columns + column;
          if (patch[next] !== 0 || (z[next] as number) < CLIFF) continue;
          patch[next] = count;
          stack.push(next);
        }
  }
  return patch;
}

/** Stretches of a ring within steep patches. */
function steepRuns(ring: Line, grid: HeightGrid, patchOf: Int32Array): { line: Place[]; patch: number }[] {
  const runs: { line: Place[]; patch: number }[] = [];
  let current: { line: Place[]; patch: number } | null = null;
  // Gaps of one or two places within a patch are bridged: the limit is crossed back and forth at its rim.
  let gap: Place[] = [];
  for (const place of ring) {
    const patch = patchOf[cellAt(grid, place[0], place[1])] as number;
    if (current && patch === current.patch) {
      current.line.push(...gap, place);
      gap = [];
    } else if (patch > 0) {
      current = { line: [place], patch };
      gap = [];
      runs.push(current);
    } else if (current && gap.length < 3) gap.push(place);
    else {
      current = null;
      gap = [];
    }
  }
  return runs;
}
