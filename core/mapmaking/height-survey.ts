/** A first look at a model, band by band: how high, how steep, how much is missing. */
import { Fault } from "../fault.ts";
import type { Placement } from "./elevation/grid-placement.ts";
import { halvedBy, halvedCount, type HeightSource, type HeightWindow } from "./height-source.ts";
import type { Pace } from "./pace.ts";

export interface Survey {
  readonly lowestM: number;
  readonly highestM: number;
  /** Share of the samples without a height. */
  readonly voidShare: number;
  /** Tangent of the slope that one sample in twenty exceeds. */
  readonly steepTangent: number;
}

/** Samples worked on at a time. */
const BAND_SAMPLES = 1 << 20;
/** Slopes are counted in steps of this tangent, of every fifth sample each way. */
const TANGENT_STEP = 0.01;
const SLOPE_EVERY = 5;

export const bandRowsOf = (columns: number, multiple = 1): number =>
  Math.max(multiple, Math.ceil(BAND_SAMPLES / columns / multiple) * multiple);

/**
 * @throws Fault "bad-elevation" when heights are such as no ground has, or nothing but voids is there; "cancelled"
 */
export async function surveyHeights(source: HeightSource, placement: Placement, pace: Pace): Promise<Survey> {
  const { columns, rows, key } = source;
  let lowestM = Infinity;
  let highestM = -Infinity;
  let voids = 0;
  const slopes = new Float64Array(500);
  let counted = 0;
  const bandRows = bandRowsOf(columns);
  const room = new Float32Array(bandRows * columns);
  for (let row = 0; row < rows; row += bandRows) {
    await pace.step(row / rows);
    const band = { column: 0, row, columns, rows: Math.min(bandRows, rows - row) };
    const { heights } = source.window(band, room);
    for (let i = 0; i < heights.length; i++) {
      const h = heights[i]!;
      if (h !== h) voids++;
      else {
        if (h < lowestM) lowestM = h;
        if (h > highestM) highestM = h;
      }
    }
    const { cellM } = placement;
    for (let r = 0; (r + 1) * columns < heights.length; r += SLOPE_EVERY) {
      const widthM = placement.cellAreaM2(row + r) / cellM;
      for (let c = 0; c + 1 < columns; c += SLOPE_EVERY) {
        const h = heights[r * columns + c]!;
        const east = (heights[r * columns + c + 1]! - h) / widthM;
        const south = (heights[(r + 1) * columns + c]! - h) / cellM;
        const tangent = Math.sqrt(east * east + south * south);
        if (tangent !== tangent) continue;
        slopes[Math.min(slopes.length - 1, Math.floor(tangent / TANGENT_STEP))]!++;
        counted++;
      }
    }
  }
  // Beyond the deepest trench and the highest summit there is no ground: a sentinel was taken for a height.
  if (lowestM < -12_000 || highestM > 9_000)
    throw new Fault(
      "bad-elevation",
      `The model has heights from ${lowestM} m to ${highestM} m, which no ground on earth has.`,
      key,
      "If a number stands for missing heights, declare it as the model's nodata value; if heights are in feet, say so with --height-unit ft.",
    );
  if (voids === columns * rows)
    throw new Fault("bad-elevation", "The model has no heights at all: every sample is missing.", key);
  let steeper = counted;
  let at = 0;
  while (at < slopes.length && steeper > counted / 20) steeper -= slopes[at++]!;
  return { lowestM, highestM, voidShare: voids / (columns * rows), steepTangent: at * TANGENT_STEP };
}

/** The whole model, halved so often, read band by band. */
export function wholeHalved(source: HeightSource, halvings: number): HeightWindow {
  const { columns, rows } = source;
  if (halvings === 0) return source.window({ column: 0, row: 0, columns, rows });
  const size = 2 ** halvings;
  const width = halvedCount(columns, halvings);
  const height = halvedCount(rows, halvings);
  const out = new Float32Array(width * height);
  const bandRows = bandRowsOf(columns, size);
  // One array for all bands: nothing is cleared away before a loop like this ends.
  const room = new Float32Array((bandRows + 4 * size) * columns);
  for (let row = 0; row < rows; row += bandRows) {
    const first = Math.max(0, row - 2 * size);
    const last = Math.min(rows, row + bandRows + 2 * size);
    const box = { column: 0, row: first, columns, rows: last - first };
    const band = halvedBy(source.window(box, room), halvings);
    const end = Math.min(height, (row + bandRows) / size);
    for (let r = row / size; r < end; r++) {
      const from = (r - band.row) * band.columns;
      out.set(band.heights.subarray(from, from + width), r * width);
    }
  }
  return { column: 0, row: 0, columns: width, rows: height, heights: out };
}
