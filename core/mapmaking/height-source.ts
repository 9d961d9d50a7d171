/** Where pieces of map making take their heights from: any window of a model, however large the model is. */
import type { ElevationGrid } from "./elevation/elevation-grid.ts";

/** Where the samples of a model lie; as in `ElevationGrid`. */
export type Frame = Omit<ElevationGrid, "heights" | "filled">;

/** A rectangle of samples, counted from the north-western one. */
export interface CellBox {
  readonly column: number;
  readonly row: number;
  readonly columns: number;
  readonly rows: number;
}

export interface HeightWindow extends CellBox {
  /** Row after row from the north; NaN is a void. */
  readonly heights: Float32Array;
}

export interface HeightSource extends Frame {
  /**
   * The heights of a box that lies within the model; the array may be the model's own and is not to be written to.
   * @param room written over instead of making an array, where it is large enough
   */
  window(box: CellBox, room?: Float32Array): HeightWindow;
}

/** A model in memory. */
export function gridSource(grid: ElevationGrid): HeightSource {
  const { key, columns, rows, origin, step, crs, heights } = grid;
  return {
    key,
    columns,
    rows,
    origin,
    step,
    crs,
    window(box) {
      if (box.columns === columns && box.rows === rows) return { ...box, heights };
      const out = new Float32Array(box.columns * box.rows);
      for (let r = 0; r < box.rows; r++) {
        const from = (box.row + r) * columns + box.column;
        out.set(heights.subarray(from, from + box.columns), r * box.columns);
      }
      return { ...box, heights: out };
    },
  };
}

/** The part of a box that lies within a model, sides as whole numbers; null when there is none two samples wide. */
export function within(
  { columns, rows }: Pick<Frame, "columns" | "rows">,
  [left, top, right, bottom]: readonly [number, number, number, number],
): CellBox | null {
  const column = Math.max(0, Math.floor(left));
  const row = Math.max(0, Math.floor(top));
  const width = Math.min(columns - 1, Math.ceil(right)) - column + 1;
  const height = Math.min(rows - 1, Math.ceil(bottom)) - row + 1;
  return width >= 2 && height >= 2 ? { column, row, columns: width, rows: height } : null;
}

/** Samples of a model thinned `halvings` times: every second one stays where it is. */
export const halvedCount = (count: number, halvings: number): number =>
  Math.floor((count - 1) / 2 ** halvings) + 1;

/**
 * Half as many samples each way: the ones with even numbers in the whole model, each the mean of itself and its eight
 * neighbours, weighted 4, 2 and 1. Means instead of single samples, so that what is too small to be seen at a scale
 * does not make its contours restless. Voids stay voids and weigh nothing beside them.
 * @param window in which a neighbour outside counts as missing, so its outermost samples differ from a larger window's
 */
export function halved(window: HeightWindow): HeightWindow {
  const { column, row, columns, rows, heights } = window;
  const c0 = column + (column & 1);
  const r0 = row + (row & 1);
  const width = Math.floor((column + columns - 1 - c0) / 2) + 1;
  const height = Math.floor((row + rows - 1 - r0) / 2) + 1;
  const out = new Float32Array(width * height);
  for (let j = 0; j < height; j++)
    for (let i = 0; i < width; i++) {
      const c = c0 + 2 * i - column;
      const r = r0 + 2 * j - row;
      const own = heights[r * columns + c]!;
      if (own !== own) {
        out[j * width + i] = Number.NaN;
        continue;
      }
      let sum = 0;
      let weight = 0;
      for (let dr = -1; dr <= 1; dr++) {
        if (r + dr < 0 || r + dr >= rows) continue;
        for (let dc = -1; dc <= 1; dc++) {
          if (c + dc < 0 || c + dc >= columns) continue;
          const h = heights[(r + dr) * columns + c + dc]!;
          if (h !== h) continue;
          const w = (2 - dr * dr) * (2 - dc * dc);
          sum += w * h;
          weight += w;
        }
      }
      out[j * width + i] = sum / weight;
    }
  return { column: c0 / 2, row: r0 / 2, columns: width, rows: height, heights: out };
}

/** `halved` so many times over. */
export function halvedBy(window: HeightWindow, halvings: number): HeightWindow {
  let out = window;
  for (let k = 0; k < halvings; k++) out = halved(out);
  return out;
}
