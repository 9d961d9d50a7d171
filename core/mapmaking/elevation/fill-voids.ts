/**
 * Fills small voids of a model with a surface stretched between their edges: each height the mean of its four
 * neighbours', as a soap film's is (Laplace's equation). Such a surface has no summit and no pit of its own.
 * Source: five-point difference scheme solved by successive over-relaxation, as in Press et al., Numerical Recipes, 3rd ed., §20.5.
 *
 * Hole by hole, each with the window it lies in: what lies in memory does not grow with the model.
 */
import { nestRings } from "../features-in/rings.ts";
import { type Frame, gridSource, type HeightSource, type HeightWindow } from "../height-source.ts";
import { outlines } from "../outlines.ts";
import { type MakeOptions, pace, type Pace } from "../pace.ts";
import type { ElevationGrid } from "./elevation-grid.ts";
import { findHoles, type Hole } from "./void-holes.ts";

/** Until no height moves by more, metres. No source: far less than tiles tell apart. */
const ENOUGH_M = 1e-5;
const MOST_ROUNDS = 5000;
/** Samples of the window a hole lies in: larger ones stay voids. 13 bytes each while it is filled. No source. */
const MOST_WINDOW = 4e6;
/** Samples worked on before others get their turn. */
const BREATH_SAMPLES = 5e6;

/** A model whose heights can be changed. */
export interface HeightStore extends HeightSource {
  /** Writes heights of one row from a column on. */
  put(row: number, column: number, heights: Float32Array): void;
}

export interface FilledVoids {
  /** Samples filled, and voids left. */
  readonly filled: number;
  readonly left: number;
  /**
   * The ground that was filled: areas, each an outer ring and its holes, in columns and rows of the model, through the
   * middles between samples that were filled and samples that were not.
   */
  readonly areas: readonly (readonly Float64Array[])[];
}

/**
 * Fills voids that are at most so wide, in the store itself. A void's width is twice the steps from its rim to its
 * innermost sample, less one: right to within one cell. Voids that reach the edge of the model are no holes and stay.
 * @param mostCells cells; 0 fills nothing
 * @throws Fault "bad-elevation" for more holes than can be kept in mind; "cancelled"
 */
export async function fillVoids(store: HeightStore, mostCells: number, going: Pace): Promise<FilledVoids> {
  if (mostCells <= 0) return { filled: 0, left: 0, areas: [] };
  const holes = await findHoles(store, going.part(0, 0.5));
  const total = holes.reduce((sum, { cells, atEdge }) => sum + (atEdge ? 0 : cells), 0);
  const areas: Float64Array[][] = [];
  let [filled, left, seen] = [0, 0, 0];
  for (const hole of holes) {
    const part = going.part(0.5 + (0.5 * seen) / total, 0.5 + (0.5 * (seen + hole.cells)) / total);
    if (!hole.atEdge) seen += hole.cells;
    const around = hole.atEdge ? null : windowAround(hole, store);
    if (!around || !isNarrow(around, mostCells)) {
      left += hole.cells;
      continue;
    }
    await stretch(around, part);
    filled += hole.cells;
    const { column, row, columns } = around.window;
    for (let i = 0; i < hole.stretches.length; i += 3) {
      const [r, first, last] = [hole.stretches[i]!, hole.stretches[i + 1]!, hole.stretches[i + 2]!];
      const at = (r - row) * columns - column;
      store.put(r, first, Float32Array.from(around.heights.subarray(at + first, at + last + 1)));
    }
    const shifted = (ring: Float64Array): Float64Array =>
      ring.map((v, i) => v + (i % 2 === 0 ? column : row));
    for (const rings of nestRings(outlines(around.marked, columns, around.window.rows)))
      areas.push(rings.map(shifted));
  }
  return { filled, left, areas };
}

/** Sentences on it that a person should read. */
export function fillNotes({ filled, left }: FilledVoids, { columns, rows }: Frame): string[] {
  const share = (count: number): string =>
    `${count} heights (${((100 * count) / (columns * rows)).toPrecision(2)} %)`;
  return [
    ...(filled > 0 ? [`${share(filled)} were missing and are made up from those around them.`] : []),
    ...(left > 0 ? [`${share(left)} are missing still: wider voids, or at the edge.`] : []),
  ];
}

/** The same with a model in memory: a copy is filled and marked. */
export async function fillGrid(
  grid: ElevationGrid,
  mostCells: number,
  options: MakeOptions = {},
): Promise<FilledVoids & { readonly grid: ElevationGrid }> {
  const heights = grid.heights.slice();
  const marks = grid.filled?.slice() ?? new Uint8Array(heights.length);
  const store: HeightStore = {
    ...gridSource({ ...grid, heights }),
    put(row, column, values) {
      heights.set(values, row * grid.columns + column);
      marks.fill(1, row * grid.columns + column, row * grid.columns + column + values.length);
    },
  };
  const done = await fillVoids(store, mostCells, pace(options));
  return { ...done, grid: done.filled > 0 ? { ...grid, heights, filled: marks } : grid };
}

/** A hole and the samples around it. */
interface Around {
  readonly window: HeightWindow;
  /** Of the window, to be changed. */
  readonly heights: Float64Array;
  /** 1 for each sample of the hole. */
  readonly marked: Uint8Array;
  /** Places of the hole's samples in the window, row after row. */
  readonly cells: Int32Array;
}

/** Null where the window would be too large. */
function windowAround({ stretches, cells: count }: Hole, source: HeightSource): Around | null {
  let [left, right] = [Infinity, -Infinity];
  for (let i = 0; i < stretches.length; i += 3) {
    left = Math.min(left, stretches[i + 1]!);
    right = Math.max(right, stretches[i + 2]!);
  }
  const [column, row] = [left - 1, stretches[0]! - 1];
  const columns = right - left + 3;
  const rows = stretches.at(-3)! - stretches[0]! + 3;
  if (columns * rows > MOST_WINDOW) return null;
  const window = source.window({ column, row, columns, rows });
  const marked = new Uint8Array(columns * rows);
  const cells = new Int32Array(count);
  let n = 0;
  for (let i = 0; i < stretches.length; i += 3)
    for (let c = stretches[i + 1]!; c <= stretches[i + 2]!; c++) {
      const at = (stretches[i]! - row) * columns + c - column;
      marked[at] = 1;
      cells[n++] = at;
    }
  return { window, heights: Float64Array.from(window.heights), marked, cells };
}

/** Whether the innermost cell of a hole is reached from its rim in so few steps that the hole is no wider than asked. */
function isNarrow({ window, marked, cells }: Around, mostCells: number): boolean {
  const around = [-1, 1, -window.columns, window.columns];
  const left = marked.slice();
  let rim = cells.filter((cell) => around.some((d) => marked[cell + d] === 0));
  for (const cell of rim) left[cell] = 0;
  let reached = rim.length;
  for (let depth = 1; 2 * depth - 1 <= mostCells; depth++) {
    if (reached === cells.length) return true;
    const inner: number[] = [];
    for (const cell of rim)
      for (const d of around)
        if (left[cell + d] === 1) {
          left[cell + d] = 0;
          inner.push(cell + d);
        }
    rim = Int32Array.from(inner);
    reached += rim.length;
  }
  return false;
}

/** Stretches the surface over a hole. All neighbours of its samples are in it or have a height. */
async function stretch({ window, heights, marked, cells }: Around, going: Pace): Promise<void> {
  const { columns } = window;
  let [sum, count] = [0, 0];
  for (const cell of cells)
    for (const next of [cell - 1, cell + 1, cell - columns, cell + columns])
      if (marked[next] === 0) {
        sum += heights[next]!;
        count++;
      }
  for (const cell of cells) heights[cell] = sum / count;
  const over = 2 / (1 + Math.PI / (Math.sqrt(cells.length) + 1));
  let worked = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let most = 0;
    for (let i = 0; i < cells.length; i++) {
      const at = cells[i]!;
      const mean =
        (heights[at - 1]! + heights[at + 1]! + heights[at - columns]! + heights[at + columns]!) / 4;
      const move = over * (mean - heights[at]!);
      heights[at] = heights[at]! + move;
      most = Math.max(most, Math.abs(move));
    }
    if (most < ENOUGH_M) break;
    worked += cells.length;
    if (worked < BREATH_SAMPLES) continue;
    worked = 0;
    await going.step(round / MOST_ROUNDS);
  }
}
