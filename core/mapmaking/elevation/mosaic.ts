/**
 * Several models into one. Where models of like resolution overlap, each counts by how far the place lies from the
 * nearest edge or void of that model, so that its share falls to nothing there and no step stays at the seam. A finer
 * model is laid over coarser ones, and fades into them over its last cells. Where no model has a height there is a void.
 */
import type { ElevationGrid } from "./elevation-grid.ts";
import { type ElevationModel, type GridFrame, type GridWindow, wholeOf } from "./elevation-model.ts";
import { mappingOf, samplerOf } from "./resample.ts";
import { cellSizeM } from "./target-frame.ts";

/** Models whose cells differ by less than this factor are of like resolution. No source. */
const LIKE = 1.5;
/** A seam is blended over so many cells at most. No source. */
const WIDEST_SEAM = 255;
/** A finer model fades into a coarser one over so many of its own cells, or two of the coarser one's. No source. */
const FADE_CELLS = 16;
/** Rows of the target worked on at once where nothing has to be weighed. */
const BAND_ROWS = 256;
/** A grid counts as lying on another's samples within this share of a cell. */
const ALIGNED = 1e-3;

type Tick = (done: number) => Promise<void>;

/**
 * The models on the grid of `target`.
 * @throws Fault as reading them does
 */
export async function mosaic(
  models: readonly ElevationModel[],
  target: GridFrame,
  tick: Tick = async () => undefined,
): Promise<ElevationGrid> {
  const sized = models
    .map((model) => ({ model, cellM: cellSizeM(model) }))
    .toSorted((a, b) => b.cellM - a.cellM);
  const classes: (typeof sized)[] = [];
  for (const each of sized) {
    const last = classes.at(-1);
    if (last && last[0]!.cellM < each.cellM * LIKE) last.push(each);
    else classes.push([each]);
  }
  let done = 0;
  const part: Tick = (share) => tick((done + share) / models.length);
  let heights: Float32Array | null = null;
  let coarserM = 0;
  for (const members of classes) {
    const layer = new Float32Array(target.columns * target.rows).fill(Number.NaN);
    const weights = members.length > 1 ? new Uint16Array(layer.length) : null;
    for (const { model } of members) {
      await addModel(model, target, layer, weights, part);
      done++;
    }
    const { cellM } = members[0]!;
    if (heights) {
      const targetM = cellSizeM(target);
      const wantedM = Math.max(FADE_CELLS * cellM, 2 * coarserM);
      const fade = Math.min(WIDEST_SEAM, Math.max(1, Math.round(wantedM / targetM)));
      layOver(heights, layer, target.columns, target.rows, fade);
    } else heights = layer;
    coarserM = cellM;
  }
  return { ...target, heights: heights ?? new Float32Array(0) };
}

/** Adds one model to a layer; with weights, as a running weighted mean, which leaves a height that stands alone as it is. */
async function addModel(
  model: ElevationModel,
  target: GridFrame,
  layer: Float32Array,
  weights: Uint16Array | null,
  tick: Tick,
): Promise<void> {
  const mapping = mappingOf(target, model);
  const shift = shiftBetween(target, model);
  const bandRows = weights || model.sequential ? target.rows : BAND_ROWS;
  const at = new Float64Array(2);
  for (let top = 0; top < target.rows; top += bandRows) {
    const bottom = Math.min(target.rows, top + bandRows);
    const window = sourceWindow(model, target, mapping, top, bottom);
    if (!window) continue;
    const heights = await model.heights(window, (share) =>
      tick((top + (bottom - top) * share) / target.rows / 2),
    );
    const distances = weights ? edgeDistances(heights, window, wholeOf(model)) : null;
    const sample = samplerOf(
      { ...window, heights, sourceColumns: model.columns, sourceRows: model.rows },
      mapping.scale,
    );
    for (let row = top; row < bottom; row++) {
      for (let column = 0; column < target.columns; column++) {
        let height: number;
        let [u, v] = [0, 0];
        if (shift) {
          [u, v] = [column + shift[0] - window.column, row + shift[1] - window.row];
          if (u < 0 || v < 0 || u >= window.columns || v >= window.rows) continue;
          height = heights[v * window.columns + u]!;
        } else {
          mapping.at(column, row, at);
          height = sample(at[0]!, at[1]!);
          u = Math.min(window.columns - 1, Math.max(0, Math.round(at[0]! - window.column)));
          v = Math.min(window.rows - 1, Math.max(0, Math.round(at[1]! - window.row)));
        }
        if (height !== height) continue;
        const i = row * target.columns + column;
        if (!weights || !distances) {
          layer[i] = height;
          continue;
        }
        const weight = Math.max(1, distances[v * window.columns + u]!);
        const sum = weights[i]! + weight;
        layer[i] = weights[i] === 0 ? height : layer[i]! + ((height - layer[i]!) * weight) / sum;
        weights[i] = Math.min(65_535, sum);
      }
      if (row % 32 === 0) await tick(0.5 + row / target.rows / 2);
    }
  }
}

/** Whole columns and rows from a target sample to the source's, where one grid lies on the other; else null. */
function shiftBetween(target: GridFrame, source: GridFrame): readonly [number, number] | null {
  if (target.crs.proj !== source.crs.proj) return null;
  const shift: number[] = [];
  for (const axis of [0, 1] as const) {
    const count = axis === 0 ? target.columns : target.rows;
    const first = (target.origin[axis] - source.origin[axis]) / source.step[axis];
    const last = first + ((count - 1) * target.step[axis]) / source.step[axis];
    const whole = Math.round(first);
    if (Math.abs(first - whole) > ALIGNED || Math.abs(last - whole - (count - 1)) > ALIGNED) return null;
    shift.push(whole);
  }
  return [shift[0]!, shift[1]!];
}

/** The part of a source that rows of the target need; null when it has none of it. */
function sourceWindow(
  source: GridFrame,
  target: GridFrame,
  mapping: ReturnType<typeof mappingOf>,
  top: number,
  bottom: number,
): GridWindow | null {
  const at = new Float64Array(2);
  const low = [Infinity, Infinity];
  const high = [-Infinity, -Infinity];
  // Every sixteenth row and column, and the last ones, bound what lies between them.
  const steps = (from: number, to: number): number[] => {
    const all: number[] = [];
    for (let k = from; k < to; k += 16) all.push(k);
    return [...all, to - 1];
  };
  for (const row of steps(top, bottom))
    for (const column of steps(0, target.columns)) {
      mapping.at(column, row, at);
      for (const axis of [0, 1]) {
        low[axis] = Math.min(low[axis]!, at[axis]!);
        high[axis] = Math.max(high[axis]!, at[axis]!);
      }
    }
  const edge = [Math.ceil(mapping.scale[0]) + 1, Math.ceil(mapping.scale[1]) + 1] as const;
  const west = Math.max(0, Math.floor(low[0]!) - edge[0]);
  const north = Math.max(0, Math.floor(low[1]!) - edge[1]);
  const east = Math.min(source.columns, Math.ceil(high[0]!) + edge[0] + 1);
  const south = Math.min(source.rows, Math.ceil(high[1]!) + edge[1] + 1);
  return east > west && south > north
    ? { column: west, row: north, columns: east - west, rows: south - north }
    : null;
}

/**
 * Steps from each sample to the nearest void or edge of the model, 0 on voids; along rows and columns.
 * Where a window was cut out of the model, its sides are no edges.
 * Source: two-pass city-block distance transform (Rosenfeld and Pfaltz, 1966).
 */
function edgeDistances(heights: Float32Array, window: GridWindow, whole: GridWindow): Uint8Array {
  const { columns, rows } = window;
  const west = window.column === 0 ? 0 : WIDEST_SEAM;
  const north = window.row === 0 ? 0 : WIDEST_SEAM;
  const east = window.column + columns === whole.columns ? 0 : WIDEST_SEAM;
  const south = window.row + rows === whole.rows ? 0 : WIDEST_SEAM;
  return distances(heights, columns, rows, { west, north, east, south });
}

interface Beyond {
  readonly west: number;
  readonly north: number;
  readonly east: number;
  readonly south: number;
}

function distances(heights: Float32Array, columns: number, rows: number, beyond: Beyond): Uint8Array {
  const out = new Uint8Array(columns * rows);
  for (let r = 0, i = 0; r < rows; r++)
    for (let c = 0; c < columns; c++, i++) {
      if (heights[i]! !== heights[i]!) continue;
      const left = c > 0 ? out[i - 1]! : beyond.west;
      const up = r > 0 ? out[i - columns]! : beyond.north;
      out[i] = Math.min(WIDEST_SEAM, left + 1, up + 1);
    }
  for (let r = rows - 1, i = columns * rows - 1; r >= 0; r--)
    for (let c = columns - 1; c >= 0; c--, i--) {
      if (out[i] === 0) continue;
      const right = c + 1 < columns ? out[i + 1]! : beyond.east;
      const down = r + 1 < rows ? out[i + columns]! : beyond.south;
      out[i] = Math.min(out[i]!, right + 1, down + 1);
    }
  return out;
}

/** Lays finer heights over coarser ones, fading in over so many samples; the sides of the grid are no edges. */
function layOver(under: Float32Array, over: Float32Array, columns: number, rows: number, fade: number): void {
  const none = { west: WIDEST_SEAM, north: WIDEST_SEAM, east: WIDEST_SEAM, south: WIDEST_SEAM };
  const depth = distances(over, columns, rows, none);
  for (let i = 0; i < over.length; i++) {
    const fine = over[i]!;
    if (fine !== fine) continue;
    const coarse = under[i]!;
    const share = Math.min(1, depth[i]! / fade);
    under[i] = coarse === coarse ? coarse + (fine - coarse) * share : fine;
  }
}
