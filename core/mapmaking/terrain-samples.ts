/** The model's heights at the places of pixels. */
import type { ElevationGrid } from "./elevation/elevation-grid.ts";
import { latOf, lonOf, type Placement } from "./elevation/grid-placement.ts";
import { type HeightSource, type HeightWindow, within } from "./height-source.ts";

export const TERRAIN_TILE = 512;

/** Samples between places where the projection is worked out; between them it is taken as bilinear. */
const MESH = 32;

/** Bilinear height in the grid; half a cell beyond the outer samples takes the nearest, as a cell's height stands for all of it. */
export function heightAt({ columns, rows, heights }: ElevationGrid, column: number, row: number): number {
  if (!(column >= -0.5 && row >= -0.5 && column <= columns - 0.5 && row <= rows - 0.5)) return Number.NaN;
  const u = Math.min(columns - 1, Math.max(0, column));
  const v = Math.min(rows - 1, Math.max(0, row));
  const c = Math.min(columns - 2, Math.floor(u));
  const r = Math.min(rows - 2, Math.floor(v));
  const fu = u - c;
  const fv = v - r;
  const at = r * columns + c;
  const a = heights[at]!;
  const b = heights[at + 1]!;
  const d = heights[at + columns]!;
  const e = heights[at + columns + 1]!;
  return (a * (1 - fu) + b * fu) * (1 - fv) + (d * (1 - fu) + e * fu) * fv;
}

/** Columns and rows of the model at places a mesh apart; between them they change evenly. */
interface Mesh {
  readonly nodes: number;
  readonly columns: Float64Array;
  readonly rows: Float64Array;
}

function meshOf(
  placement: Placement,
  zoom: number,
  x: number,
  y: number,
  size: number,
  spacing: number,
): Mesh {
  const world = TERRAIN_TILE * 2 ** zoom;
  const nodes = Math.ceil(size / MESH) + 1;
  const columns = new Float64Array(nodes * nodes);
  const rows = new Float64Array(nodes * nodes);
  for (let j = 0; j < nodes; j++)
    for (let i = 0; i < nodes; i++) {
      const at = placement.toGrid([
        lonOf((x + i * MESH * spacing) / world),
        latOf((y + j * MESH * spacing) / world),
      ]);
      columns[j * nodes + i] = at[0];
      rows[j * nodes + i] = at[1];
    }
  return { nodes, columns, rows };
}

/** Whose heights to sample, and the part of them at hand: everything the squares that are asked for lie on. */
export interface Sampled {
  readonly source: Pick<HeightSource, "columns" | "rows">;
  readonly window: HeightWindow;
  readonly placement: Placement;
}

/** The heights under a square of pixels, as `sampleSquare` takes it; null where the model has none. */
export function windowUnder(
  source: HeightSource,
  placement: Placement,
  zoom: number,
  x: number,
  y: number,
  size: number,
): HeightWindow | null {
  const { columns, rows } = meshOf(placement, zoom, x, y, size, 1);
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k < columns.length; k++) {
    left = Math.min(left, columns[k]!);
    right = Math.max(right, columns[k]!);
    top = Math.min(top, rows[k]!);
    bottom = Math.max(bottom, rows[k]!);
  }
  const box = within(source, [left - 2, top - 2, right + 2, bottom + 2]);
  return box && source.window(box);
}

/**
 * Heights of the model at a square of `size` by `size` places `spacing` pixels apart, row after row from the north,
 * NaN where it has none: place (i, j) is pixel position (x + i · spacing, y + j · spacing). Pixel positions count from
 * the world's north-west corner at the zoom; whole numbers are pixel edges, halves are centres.
 * Half a cell beyond the outer samples takes the nearest, as in `heightAt`.
 */
export function sampleSquare(
  { source, window, placement }: Sampled,
  zoom: number,
  x: number,
  y: number,
  size: number,
  spacing: number,
  out: Float32Array = new Float32Array(size * size),
): Float32Array {
  const { nodes, columns, rows } = meshOf(placement, zoom, x, y, size, spacing);
  const { heights, columns: width } = window;
  const lastColumn = source.columns - 1;
  const lastRow = source.rows - 1;
  for (let sy = 0; sy < size; sy++) {
    const j = Math.floor(sy / MESH);
    const fv = sy / MESH - j;
    for (let i = 0; i + 1 < nodes; i++) {
      // Along a row of samples within one mesh cell both grid coordinates change evenly.
      const n = j * nodes + i;
      const c0 = columns[n]! * (1 - fv) + columns[n + nodes]! * fv;
      const r0 = rows[n]! * (1 - fv) + rows[n + nodes]! * fv;
      const dc = (columns[n + 1]! * (1 - fv) + columns[n + nodes + 1]! * fv - c0) / MESH;
      const dr = (rows[n + 1]! * (1 - fv) + rows[n + nodes + 1]! * fv - r0) / MESH;
      const last = Math.min(MESH, size - i * MESH);
      const at = sy * size + i * MESH;
      const cEnd = c0 + (last - 1) * dc;
      const rEnd = r0 + (last - 1) * dr;
      if (
        Math.min(c0, cEnd) >= 0 &&
        Math.max(c0, cEnd) < lastColumn &&
        Math.min(r0, rEnd) >= 0 &&
        Math.max(r0, rEnd) < lastRow
      ) {
        // Well inside the model, as nearly everywhere: nothing to hold back from its edges.
        const origin = window.row * width + window.column;
        for (let k = 0; k < last; k++) {
          const u = c0 + k * dc;
          const v = r0 + k * dr;
          const c = u | 0;
          const r = v | 0;
          const fu = u - c;
          const fw = v - r;
          const cell = r * width + c - origin;
          out[at + k] =
            (heights[cell]! * (1 - fu) + heights[cell + 1]! * fu) * (1 - fw) +
            (heights[cell + width]! * (1 - fu) + heights[cell + width + 1]! * fu) * fw;
        }
        continue;
      }
      for (let k = 0; k < last; k++) {
        const column = c0 + k * dc;
        const row = r0 + k * dr;
        if (!(column >= -0.5 && row >= -0.5 && column <= lastColumn + 0.5 && row <= lastRow + 0.5)) {
          out[at + k] = Number.NaN;
          continue;
        }
        const u = column < 0 ? 0 : column > lastColumn ? lastColumn : column;
        const v = row < 0 ? 0 : row > lastRow ? lastRow : row;
        let c = u | 0;
        let r = v | 0;
        if (c === lastColumn) c--;
        if (r === lastRow) r--;
        const fu = u - c;
        const fw = v - r;
        const cell = (r - window.row) * width + c - window.column;
        const a = heights[cell]!;
        const b = heights[cell + 1]!;
        const d = heights[cell + width]!;
        const e = heights[cell + width + 1]!;
        out[at + k] = (a * (1 - fu) + b * fu) * (1 - fw) + (d * (1 - fu) + e * fu) * fw;
      }
    }
  }
  return out;
}
