/**
 * Heights of one grid at the places of another: bilinear between four samples, or, where the other's cells are more than
 * one and a half times as large, the mean over the cell.
 */
import type { GridFrame, GridWindow } from "./elevation-model.ts";
import { transformer } from "./target-frame.ts";

/** Where the mean over a cell takes over from interpolation, source cells. No source. */
const MEAN_FROM = 1.5;
/** Within blocks of so many cells the change of systems is taken as bilinear: under 1 cm off at 30 m a cell. */
const BLOCK = 16;

/** Source column and row of each place in a frame, exact at every sixteenth, linear in between. */
export interface Mapping {
  /** Source position of a target sample; NaN where it has none. */
  at(column: number, row: number, out: Float64Array): void;
  /** Source cells to one target cell, across and down, at most anywhere. */
  readonly scale: readonly [number, number];
}

export function mappingOf(target: GridFrame, source: GridFrame): Mapping {
  const over = transformer(target.crs, source.crs);
  const across = Math.ceil((target.columns - 1) / BLOCK) + 1;
  const down = Math.ceil((target.rows - 1) / BLOCK) + 1;
  const nodes = new Float64Array(2 * across * down);
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++) {
      const [x, y] = over(
        target.origin[0] + i * BLOCK * target.step[0],
        target.origin[1] + j * BLOCK * target.step[1],
      );
      nodes[2 * (j * across + i)] = (x - source.origin[0]) / source.step[0];
      nodes[2 * (j * across + i) + 1] = (y - source.origin[1]) / source.step[1];
    }
  // The box that a turned cell fills in the source: its extent along both axes.
  const scale: [number, number] = [0, 0];
  for (let j = 0; j < down; j++)
    for (let i = 0; i < across; i++)
      for (const axis of [0, 1] as const) {
        const n = 2 * (j * across + i) + axis;
        const right = i + 1 < across ? Math.abs(nodes[n + 2]! - nodes[n]!) / BLOCK : Number.NaN;
        const below = j + 1 < down ? Math.abs(nodes[n + 2 * across]! - nodes[n]!) / BLOCK : Number.NaN;
        const size = Math.hypot(right, below);
        if (size > scale[axis]) scale[axis] = size;
      }
  // A frame of one row or column has no neighbour to measure by.
  const plain = (axis: 0 | 1): number => Math.abs(target.step[axis] / source.step[axis]);
  const sure = (axis: 0 | 1): number =>
    scale[axis] || (target.crs.proj === source.crs.proj ? plain(axis) : 1);
  return {
    scale: [sure(0), sure(1)],
    at(column, row, out) {
      const i = Math.min(Math.max(0, across - 2), Math.floor(column / BLOCK));
      const j = Math.min(Math.max(0, down - 2), Math.floor(row / BLOCK));
      const fu = across > 1 ? column / BLOCK - i : 0;
      const fv = down > 1 ? row / BLOCK - j : 0;
      const a = 2 * (j * across + i);
      const right = across > 1 ? 2 : 0;
      const below = down > 1 ? 2 * across : 0;
      for (let axis = 0; axis < 2; axis++) {
        const top = nodes[a + axis]! * (1 - fu) + nodes[a + right + axis]! * fu;
        const bottom = nodes[a + below + axis]! * (1 - fu) + nodes[a + below + right + axis]! * fu;
        out[axis] = top * (1 - fv) + bottom * fv;
      }
    },
  };
}

/** Samples of a source that are at hand: a window of it. */
export interface Patch extends GridWindow {
  readonly heights: Float32Array;
  /** Columns and rows of the whole source, whose outer cells reach half a cell beyond their samples. */
  readonly sourceColumns: number;
  readonly sourceRows: number;
}

/** Height at a source position by the scale of the mapping; NaN where the source has none, or voids prevail. */
export const samplerOf = (
  patch: Patch,
  scale: readonly [number, number],
): ((u: number, v: number) => number) =>
  scale[0] > MEAN_FROM || scale[1] > MEAN_FROM
    ? (u, v) => meanOver(patch, u, v, Math.max(1, scale[0]), Math.max(1, scale[1]))
    : (u, v) => bilinear(patch, u, v);

const inside = ({ sourceColumns, sourceRows }: Patch, u: number, v: number): boolean => {
  // Two grids that abut share an edge, and rounding must not tear a gap there.
  const edge = 0.5 + 1e-6;
  return u >= -edge && v >= -edge && u <= sourceColumns - 1 + edge && v <= sourceRows - 1 + edge;
};

/** Between four samples; of voids among them the others' weights make up, as long as those are half of all. */
function bilinear(patch: Patch, u: number, v: number): number {
  if (!inside(patch, u, v)) return Number.NaN;
  const { columns, rows, heights } = patch;
  const x = Math.min(columns - 1, Math.max(0, u - patch.column));
  const y = Math.min(rows - 1, Math.max(0, v - patch.row));
  const c = Math.min(Math.max(0, columns - 2), Math.floor(x));
  const r = Math.min(Math.max(0, rows - 2), Math.floor(y));
  const [fx, fy] = [x - c, y - r];
  const right = columns > 1 ? 1 : 0;
  const below = rows > 1 ? columns : 0;
  const at = r * columns + c;
  let [sum, weight] = [0, 0];
  for (let k = 0; k < 4; k++) {
    const w = (k & 1 ? fx : 1 - fx) * (k & 2 ? fy : 1 - fy);
    const h = heights[at + (k & 1 ? right : 0) + (k & 2 ? below : 0)]!;
    if (w > 0 && h === h) {
      sum += w * h;
      weight += w;
    }
  }
  return weight >= 0.5 ? sum / weight : Number.NaN;
}

/** Mean of the samples under a box, by the share of each one's cell in it; NaN when more than half of it is void. */
function meanOver(patch: Patch, u: number, v: number, width: number, height: number): number {
  if (!inside(patch, u, v)) return Number.NaN;
  const { columns, rows, heights } = patch;
  const [west, north] = [u - patch.column - width / 2, v - patch.row - height / 2];
  const [east, south] = [west + width, north + height];
  let [sum, weight] = [0, 0];
  for (let r = Math.max(0, Math.round(north)); r <= Math.min(rows - 1, Math.round(south)); r++) {
    const down = Math.min(south, r + 0.5) - Math.max(north, r - 0.5);
    if (down <= 1e-9) continue;
    for (let c = Math.max(0, Math.round(west)); c <= Math.min(columns - 1, Math.round(east)); c++) {
      const share = (Math.min(east, c + 0.5) - Math.max(west, c - 0.5)) * down;
      const h = heights[r * columns + c]!;
      if (share > 1e-9 && h === h) {
        sum += share * h;
        weight += share;
      }
    }
  }
  return weight >= 0.5 * width * height ? sum / weight : Number.NaN;
}
