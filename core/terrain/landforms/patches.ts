/** Connected patches of samples: tops of hills, floors of depressions, steep ground. */
import type { Bbox } from "../../units/position.ts";
import type { HeightGrid } from "./height-grid.ts";

/** The samples connected with one, over sides and corners, that a rule lets in; the first is the one begun at. */
export function patchFrom(grid: HeightGrid, start: number, inside: (sample: number) => boolean): number[] {
  const { columns, rows } = grid;
  const seen = new Uint8Array(grid.heights.length);
  seen[start] = 1;
  const patch = [start];
  for (let n = 0; n < patch.length; n++) {
    const i = patch[n] as number;
    const c = i % columns;
    const r = (i - c) / columns;
    for (let nr = Math.max(0, r - 1); nr <= Math.min(rows - 1, r + 1); nr++)
      for (let nc = Math.max(0, c - 1); nc <= Math.min(columns - 1, c + 1); nc++) {
        const j = nr * columns + nc;
        if (seen[j] === 1 || !inside(j)) continue;
        seen[j] = 1;
        patch.push(j);
      }
  }
  return patch;
}

/** The box around samples, each taken as the square half a step around it. */
export function boxAround(grid: HeightGrid, samples: readonly number[]): Bbox {
  let [west, south, east, north] = [Infinity, -Infinity, -Infinity, Infinity];
  for (const i of samples) {
    const c = i % grid.columns;
    const r = (i - c) / grid.columns;
    west = Math.min(west, c);
    east = Math.max(east, c);
    north = Math.min(north, r);
    south = Math.max(south, r);
  }
  const [w, s] = grid.toLonLat(west - 0.5, south + 0.5);
  const [e, n] = grid.toLonLat(east + 0.5, north - 0.5);
  return [w, s, e, n];
}
