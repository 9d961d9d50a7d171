/**
 * Several models into one. Where models of like resolution overlap, each counts by how far the place lies from the
 * nearest edge or void of that model, so that its share falls to nothing there and no step stays at the seam. A finer
 * model is laid over coarser ones, and fades into them over its last cells. Where no model has a height there is a void.
 */
import type { ElevationGrid } from "./elevation-grid.ts";
import { type ElevationModel, type GridFrame, type GridWindow, wholeOf } from "./elevation-model.ts";
import { type Mapping, mappingOf, samplerOf } from "./resample.ts";
import { edgeDistances, layOver, WIDEST_SEAM } from "./seams.ts";
import { cellSizeM } from "./target-frame.ts";

/** Models whose cells differ by less than this factor are of like resolution. No source. */
const LIKE = 1.5;
/** A finer model fades into a coarser one over so many of its own cells, or two of the coarser one's. No source. */
const FADE_CELLS = 16;
/** Rows of the target worked on at once where nothing has to be weighed. */
const STRIP_ROWS = 256;
/** Samples of a band: 16 MB, and a few times as much while it is put together. No source. */
const BAND_SAMPLES = 2 ** 22;
/** A grid counts as lying on another's samples within this share of a cell. */
const ALIGNED = 1e-3;

type Tick = (done: number) => Promise<void>;
const silent: Tick = async () => undefined;

/** A model, and how its samples lie to those of the target. */
interface Placed {
  readonly model: ElevationModel;
  readonly cellM: number;
  readonly mapping: Mapping;
  readonly shift: readonly [number, number] | null;
}

/** Models of like resolution together, the coarsest first. */
function placeModels(models: readonly ElevationModel[], target: GridFrame): readonly (readonly Placed[])[] {
  const placed = models.map((model) => ({
    model: model.sequential ? readOnce(model) : model,
    cellM: cellSizeM(model),
    mapping: mappingOf(target, model),
    shift: shiftBetween(target, model),
  }));
  const classes: Placed[][] = [];
  for (const each of placed.toSorted((a, b) => b.cellM - a.cellM)) {
    const last = classes.at(-1);
    if (last && last[0]!.cellM < each.cellM * LIKE) last.push(each);
    else classes.push([each]);
  }
  return classes;
}

/** A model that can only be read from its beginning, kept in memory from the first time on. */
function readOnce(model: ElevationModel): ElevationModel {
  let whole: Promise<Float32Array> | null = null;
  return {
    ...model,
    async heights(window, tick) {
      const all = await (whole ??= model.heights(wholeOf(model), tick));
      const out = new Float32Array(window.columns * window.rows);
      for (let row = 0; row < window.rows; row++) {
        const from = (window.row + row) * model.columns + window.column;
        out.set(all.subarray(from, from + window.columns), row * window.columns);
      }
      return out;
    },
  };
}

/**
 * The models on the grid of `target`.
 * @throws Fault as reading them does
 */
export async function mosaic(
  models: readonly ElevationModel[],
  target: GridFrame,
  tick: Tick = silent,
): Promise<ElevationGrid> {
  return { ...target, heights: await joined(placeModels(models, target), target, 0, target.rows, tick) };
}

/**
 * The same heights some rows at a time, from the north: what lies in memory does not grow with the area.
 * @throws Fault as reading the models does
 */
export async function* mosaicBands(
  models: readonly ElevationModel[],
  target: GridFrame,
  tick: Tick = silent,
  bandSamples = BAND_SAMPLES,
): AsyncGenerator<Float32Array, void> {
  const classes = placeModels(models, target);
  // What a finer model fades into depends on its edges so far away.
  const beside = classes.length > 1 ? WIDEST_SEAM : 0;
  const bandRows = Math.max(1, Math.floor(bandSamples / target.columns));
  for (let top = 0; top < target.rows; top += bandRows) {
    const bottom = Math.min(target.rows, top + bandRows);
    const [from, to] = [Math.max(0, top - beside), Math.min(target.rows, bottom + beside)];
    const heights = await joined(classes, target, from, to, (share) =>
      tick((top + share * (bottom - top)) / target.rows),
    );
    yield heights.subarray((top - from) * target.columns, (bottom - from) * target.columns);
  }
}

/** Rows of the target, the last one not included. */
async function joined(
  classes: readonly (readonly Placed[])[],
  target: GridFrame,
  from: number,
  to: number,
  tick: Tick,
): Promise<Float32Array> {
  const count = classes.reduce((sum, members) => sum + members.length, 0);
  const rows = to - from;
  let done = 0;
  let heights: Float32Array | null = null;
  let coarserM = 0;
  for (const members of classes) {
    const layer = new Float32Array(target.columns * rows).fill(Number.NaN);
    const weights = members.length > 1 ? new Uint16Array(layer.length) : null;
    for (const placed of members) {
      await addModel(placed, target.columns, { from, to }, layer, weights, (share) =>
        tick((done + share) / count),
      );
      done++;
    }
    const { cellM } = members[0]!;
    if (heights) {
      const targetM = cellSizeM(target);
      const wantedM = Math.max(FADE_CELLS * cellM, 2 * coarserM);
      const fade = Math.min(WIDEST_SEAM, Math.max(1, Math.round(wantedM / targetM)));
      layOver(heights, layer, target.columns, rows, fade);
    } else heights = layer;
    coarserM = cellM;
  }
  return heights ?? new Float32Array(0);
}

/** Adds one model to a layer; with weights, as a running weighted mean, which leaves a height that stands alone as it is. */
async function addModel(
  { model, mapping, shift }: Placed,
  columns: number,
  { from, to }: { readonly from: number; readonly to: number },
  layer: Float32Array,
  weights: Uint16Array | null,
  tick: Tick,
): Promise<void> {
  const stripRows = weights ? to - from : STRIP_ROWS;
  const at = new Float64Array(2);
  for (let top = from; top < to; top += stripRows) {
    const bottom = Math.min(to, top + stripRows);
    // Weights depend on edges and voids so far away.
    const window = sourceWindow(model, mapping, columns, top, bottom, weights ? WIDEST_SEAM : 0);
    if (!window) continue;
    const heights = await model.heights(window, (share) =>
      tick((top - from + (bottom - top) * share) / (to - from) / 2),
    );
    const distances = weights ? edgeDistances(heights, window, wholeOf(model)) : null;
    const sample = samplerOf(
      { ...window, heights, sourceColumns: model.columns, sourceRows: model.rows },
      mapping.scale,
    );
    for (let row = top; row < bottom; row++) {
      for (let column = 0; column < columns; column++) {
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
        const i = (row - from) * columns + column;
        if (!weights || !distances) {
          layer[i] = height;
          continue;
        }
        const weight = Math.max(1, distances[v * window.columns + u]!);
        const sum = weights[i]! + weight;
        layer[i] = weights[i] === 0 ? height : layer[i]! + ((height - layer[i]!) * weight) / sum;
        weights[i] = Math.min(65_535, sum);
      }
      if (row % 32 === 0) await tick(0.5 + (row - from) / (to - from) / 2);
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

/** The part of a source that rows of the target need, and so many samples around it; null when it has none of it. */
function sourceWindow(
  source: GridFrame,
  mapping: Mapping,
  columns: number,
  top: number,
  bottom: number,
  around: number,
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
    for (const column of steps(0, columns)) {
      mapping.at(column, row, at);
      for (const axis of [0, 1]) {
        low[axis] = Math.min(low[axis]!, at[axis]!);
        high[axis] = Math.max(high[axis]!, at[axis]!);
      }
    }
  const edge = mapping.scale.map((scale) => Math.ceil(scale) + 1) as [number, number];
  // Whether anything is needed at all is asked before anything around it is added.
  const meets =
    high[0]! + edge[0] >= 0 &&
    high[1]! + edge[1] >= 0 &&
    low[0]! - edge[0] < source.columns &&
    low[1]! - edge[1] < source.rows;
  if (!meets) return null;
  const west = Math.max(0, Math.floor(low[0]!) - edge[0] - around);
  const north = Math.max(0, Math.floor(low[1]!) - edge[1] - around);
  const east = Math.min(source.columns, Math.ceil(high[0]!) + edge[0] + 1 + around);
  const south = Math.min(source.rows, Math.ceil(high[1]!) + edge[1] + 1 + around);
  return east > west && south > north
    ? { column: west, row: north, columns: east - west, rows: south - north }
    : null;
}
