/**
 * Which summit each sample leads up to by its highest neighbours, or which pit down to, and where these slopes meet.
 * Every leg goes through some tens of thousands of samples here, so that plain loops over typed arrays are worth it.
 */
import type { HeightGrid } from "./height-grid.ts";

export interface Slopes {
  /** Summit (pit) of each slope, as a sample. */
  readonly tops: readonly number[];
  /** The highest place where two slopes touch: the lower one of two neighbouring samples. */
  readonly meetings: readonly Meeting[];
  /** The highest sample of a slope that lies on the grid's edge or beside an unknown one. */
  readonly rims: readonly { readonly sample: number; readonly slope: number }[];
}

export interface Meeting {
  readonly sample: number;
  readonly a: number;
  readonly b: number;
}

/**
 * Samples with a border of unknown ones all round, so that each has eight neighbours. Used again by the next call: only
 * what is read after being written may be relied on.
 */
interface Scratch {
  readonly levels: Float32Array;
  /** The highest of three in a row, then of the three rows. */
  readonly inRow: Int32Array;
  readonly highest: Int32Array;
  readonly slope: Int32Array;
  readonly rim: Uint8Array;
}

let kept: Scratch | undefined;

function scratchFor(length: number): Scratch {
  if (!kept || kept.levels.length < length)
    kept = {
      levels: new Float32Array(length),
      inRow: new Int32Array(length),
      highest: new Int32Array(length),
      slope: new Int32Array(length),
      rim: new Uint8Array(length),
    };
  return kept;
}

/**
 * Of samples equally high the first counts as higher, so that level ground leads somewhere as well; it may then be
 * several slopes, which meet at its own level.
 * @param up false takes what is lower for higher throughout
 */
export function slopesOf(grid: HeightGrid, up: boolean): Slopes {
  const { columns, rows } = grid;
  const width = columns + 2;
  const scratch = scratchFor(width * (rows + 2));
  readLevels(grid, up, scratch);
  findHighest(grid, scratch);
  const tops = nameSlopes(grid, scratch);
  const sampleOf = (p: number): number => {
    const c = p % width;
    return ((p - c) / width - 1) * columns + c - 1;
  };
  const { levels, slope, rim } = scratch;
  const rims = new Int32Array(tops.length).fill(-1);
  const meetings = new Map<number, number>();
  const meet = (p: number, q: number): void => {
    const [a, b] = [slope[p]!, slope[q]!];
    if (b < 0) return;
    const key = a < b ? a * tops.length + b : b * tops.length + a;
    const lower = levels[p]! < levels[q]! ? p : q;
    const known = meetings.get(key);
    if (known === undefined || levels[lower]! > levels[known]!) meetings.set(key, lower);
  };
  for (let r = 1; r <= rows; r++)
    for (let p = r * width + 1; p <= r * width + columns; p++) {
      const mine = slope[p]!;
      if (mine < 0) continue;
      if (rim[p] === 1 && (rims[mine]! < 0 || levels[p]! > levels[rims[mine]!]!)) rims[mine] = p;
      // Each pair of neighbours once: those after this one.
      if (slope[p + 1] !== mine) meet(p, p + 1);
      if (slope[p + width - 1] !== mine) meet(p, p + width - 1);
      if (slope[p + width] !== mine) meet(p, p + width);
      if (slope[p + width + 1] !== mine) meet(p, p + width + 1);
    }
  return {
    tops: tops.map(sampleOf),
    meetings: Array.from(meetings, ([key, p]) => {
      const b = key % tops.length;
      return { sample: sampleOf(p), a: (key - b) / tops.length, b };
    }),
    rims: Array.from(rims, (p, s) => ({ sample: p, slope: s }))
      .filter(({ sample }) => sample >= 0)
      .map(({ sample, slope: s }) => ({ sample: sampleOf(sample), slope: s })),
  };
}

/** Levels, −Infinity where unknown, and which samples lie beside such. */
function readLevels({ columns, rows, heights }: HeightGrid, up: boolean, { levels, rim }: Scratch): void {
  const width = columns + 2;
  const length = width * (rows + 2);
  const sign = up ? 1 : -1;
  levels.fill(-Infinity, 0, length);
  rim.fill(0, 0, length);
  const besideUnknown = (p: number): void => {
    for (const q of [p - width, p, p + width]) rim[q - 1] = rim[q] = rim[q + 1] = 1;
  };
  for (let r = 0; r < rows; r++) {
    let p = (r + 1) * width + 1;
    rim[p] = rim[p + columns - 1] = 1;
    for (let i = r * columns; i < (r + 1) * columns; i++, p++) {
      const level = sign * heights[i]!;
      if (level === level) levels[p] = level;
      else besideUnknown(p);
    }
  }
  rim.fill(1, width, 2 * width);
  rim.fill(1, rows * width, (rows + 1) * width);
}

/** Of each sample and its neighbours the highest, the first of equals. */
function findHighest({ columns, rows }: HeightGrid, { levels, inRow, highest }: Scratch): void {
  const width = columns + 2;
  for (let p = 1; p < width * (rows + 2) - 1; p++) {
    let best = p - 1;
    if (levels[p]! > levels[best]!) best = p;
    if (levels[p + 1]! > levels[best]!) best = p + 1;
    inRow[p] = best;
  }
  for (let r = 1; r <= rows; r++)
    for (let p = r * width + 1; p <= r * width + columns; p++) {
      let best = inRow[p - width]!;
      const same = inRow[p]!;
      if (levels[same]! > levels[best]!) best = same;
      const next = inRow[p + width]!;
      if (levels[next]! > levels[best]!) best = next;
      highest[p] = best;
    }
}

/** Numbers the slopes, −1 where nothing is known; their tops. */
function nameSlopes({ columns, rows }: HeightGrid, { levels, highest, slope }: Scratch): number[] {
  const width = columns + 2;
  const tops: number[] = [];
  slope.fill(-1, 0, width * (rows + 2));
  for (let r = 1; r <= rows; r++)
    for (let p = r * width + 1; p <= r * width + columns; p++) {
      if (slope[p]! >= 0 || levels[p] === -Infinity) continue;
      let top = p;
      while (slope[top]! < 0 && highest[top] !== top) top = highest[top]!;
      let name = slope[top]!;
      if (name < 0) {
        name = tops.push(top) - 1;
        slope[top] = name;
      }
      for (let q = p; slope[q]! < 0; q = highest[q]!) slope[q] = name;
    }
  return tops;
}
