/**
 * Contours of an elevation grid by marching squares, in one pass over a window of it, joined into whole lines.
 *
 * Along the edges of a cell the surface is taken as straight between two samples, as bilinear interpolation has it,
 * so every vertex lies on the bilinear surface at exactly its level. Within a cell a contour is the straight chord of
 * the hyperbola that the bilinear surface has there. Where all four edges are crossed, the height at the saddle of the
 * bilinear surface decides which crossings belong together (G. M. Nielson and B. Hamann, The asymptotic decider,
 * Proc. Visualization '91, 83–91); with that rule chords of different levels never cross.
 *
 * A sample that lies exactly on a level counts as above it by less than anything, so that no line runs through a
 * sample or branches there: crossings stay `CLEAR` of an edge's length away from samples. A plateau at a level is
 * ringed closely instead of vanishing; a basin floor at its level is not drawn.
 *
 * Voids break lines: a cell with a missing corner has none.
 */
import type { HeightWindow } from "./height-source.ts";

/** Share of an edge kept between a crossing and a sample: on a cell of 30 m it moves a line by 3 mm. */
const CLEAR = 1e-4;

export interface ContourLine {
  /** The level's number: the line's height is `level * stepM`. */
  readonly level: number;
  /** Column, row, column, row … in the whole model, from 0; higher ground lies to the left. A ring repeats its first vertex. */
  readonly coords: Float64Array;
  readonly closed: boolean;
}

/**
 * For each cell with corners north-west 8, north-east 4, south-east 2, south-west 1 above the level: the edges
 * (0 north, 1 east, 2 south, 3 west) that its chords run from and to, with the higher ground to the left.
 */
// prettier-ignore
const CHORDS: readonly (readonly number[])[] = [
  [], [2, 3], [1, 2], [1, 3], [0, 1], [0, 1, 2, 3], [0, 2], [0, 3],
  [3, 0], [2, 0], [3, 0, 1, 2], [1, 0], [3, 1], [2, 1], [3, 2], [],
];
/** The two saddles once more, with the high corners joined and the low ones cut off. */
const NORTH_EAST_AND_SOUTH_WEST = 5;
const NORTH_WEST_AND_SOUTH_EAST = 10;
const JOINED_NE_SW: readonly number[] = [0, 3, 2, 1];
const JOINED_NW_SE: readonly number[] = [1, 0, 3, 2];

/** Stands for "no height here" among level numbers. */
const VOID = -0x8000_0000;

/** Crossings of grid edges with levels, each the start of at most one chord. 14 bytes a vertex: large models have millions. */
class Crossings {
  count = 0;
  edge = new Uint32Array(1 << 14);
  level = new Int32Array(1 << 14);
  next = new Int32Array(1 << 14);
  entered = new Uint8Array(1 << 14);

  add(edge: number, level: number): void {
    const i = this.count++;
    if (i === this.edge.length) this.grow();
    this.edge[i] = edge;
    this.level[i] = level;
    this.next[i] = -1;
  }

  private grow(): void {
    const size = Math.ceil(this.edge.length * 1.6);
    const into = <A extends Uint32Array | Int32Array | Uint8Array>(larger: A, old: A): A => {
      larger.set(old);
      return larger;
    };
    this.edge = into(new Uint32Array(size), this.edge);
    this.level = into(new Int32Array(size), this.level);
    this.next = into(new Int32Array(size), this.next);
    this.entered = into(new Uint8Array(size), this.entered);
  }
}

/** The highest level at or below a height, robust against the rounding of the division. */
function levelOf(height: number, stepM: number): number {
  if (height !== height) return VOID;
  let k = Math.floor(height / stepM);
  if ((k + 1) * stepM <= height) k++;
  else if (k * stepM > height) k--;
  return k;
}

/**
 * Every contour of a window at whole multiples of `stepM` metres. A vertex comes out the same, to the last bit, from
 * every window that holds its two samples.
 * @param emit receives each line once; its coordinates are good until it returns
 */
export function contours(window: HeightWindow, stepM: number, emit: (line: ContourLine) => void): void {
  const { columns, rows, heights } = window;
  const found = new Crossings();
  // First crossing of each edge of the row of samples above and below, and of the edges between them;
  // an edge's crossings follow one another by level, so a level's is found by adding.
  let above = new Int32Array(columns);
  let below = new Int32Array(columns);
  const between = new Int32Array(columns);
  let levelsAbove = new Int32Array(columns);
  let levelsBelow = new Int32Array(columns);
  const ends = new Int32Array(4);
  const lowest = new Int32Array(4);

  const cross = (edge: number, a: number, b: number): number => {
    if (a === b || a === VOID || b === VOID) return found.count;
    const first = found.count;
    const high = Math.max(a, b);
    for (let k = Math.min(a, b) + 1; k <= high; k++) found.add(edge, k);
    return first;
  };
  const startRow = (row: number, levels: Int32Array, first: Int32Array): void => {
    const at = row * columns;
    for (let c = 0; c < columns; c++) levels[c] = levelOf(heights[at + c]!, stepM);
    for (let c = 0; c + 1 < columns; c++) first[c] = cross(2 * (at + c), levels[c]!, levels[c + 1]!);
  };

  startRow(0, levelsAbove, above);
  for (let row = 0; row + 1 < rows; row++) {
    startRow(row + 1, levelsBelow, below);
    const at = row * columns;
    for (let c = 0; c < columns; c++) between[c] = cross(2 * (at + c) + 1, levelsAbove[c]!, levelsBelow[c]!);
    for (let c = 0; c + 1 < columns; c++) {
      const nw = levelsAbove[c]!;
      const ne = levelsAbove[c + 1]!;
      const sw = levelsBelow[c]!;
      const se = levelsBelow[c + 1]!;
      if (nw === ne && nw === sw && nw === se) continue;
      if (nw === VOID || ne === VOID || sw === VOID || se === VOID) continue;
      const high = Math.max(nw, ne, sw, se);
      const low = Math.min(nw, ne, sw, se);
      ends[0] = above[c]!;
      ends[1] = between[c + 1]!;
      ends[2] = below[c]!;
      ends[3] = between[c]!;
      lowest[0] = Math.min(nw, ne) + 1;
      lowest[1] = Math.min(ne, se) + 1;
      lowest[2] = Math.min(sw, se) + 1;
      lowest[3] = Math.min(nw, sw) + 1;
      for (let k = low + 1; k <= high; k++) {
        const mask = (nw >= k ? 8 : 0) | (ne >= k ? 4 : 0) | (se >= k ? 2 : 0) | (sw >= k ? 1 : 0);
        let chords = CHORDS[mask]!;
        if (mask === NORTH_EAST_AND_SOUTH_WEST || mask === NORTH_WEST_AND_SOUTH_EAST) {
          const a = heights[at + c]!;
          const b = heights[at + c + 1]!;
          const d = heights[at + columns + c + 1]!;
          const e = heights[at + columns + c]!;
          // Height of the bilinear surface where it is level in both directions.
          const saddle = (a * d - b * e) / (a + d - b - e);
          if (saddle >= k * stepM) chords = mask === NORTH_EAST_AND_SOUTH_WEST ? JOINED_NE_SW : JOINED_NW_SE;
        }
        for (let i = 0; i < chords.length; i += 2) {
          const p = chords[i]!;
          const q = chords[i + 1]!;
          const from = ends[p]! + k - lowest[p]!;
          const to = ends[q]! + k - lowest[q]!;
          found.next[from] = to;
          found.entered[to] = 1;
        }
      }
    }
    [above, below] = [below, above];
    [levelsAbove, levelsBelow] = [levelsBelow, levelsAbove];
  }
  trace(window, stepM, found, emit);
}

/** The same, all lines kept, in one array: one of its own for each would take longer to make and to clear away. */
export function keptContours(window: HeightWindow, stepM: number): ContourLine[] {
  let all = new Float64Array(1 << 14);
  let length = 0;
  const found: { readonly level: number; readonly from: number; readonly to: number; closed: boolean }[] = [];
  contours(window, stepM, ({ level, coords, closed }) => {
    if (length + coords.length > all.length) {
      const larger = new Float64Array(Math.max(2 * all.length, length + coords.length));
      larger.set(all);
      all = larger;
    }
    all.set(coords, length);
    found.push({ level, from: length, to: (length += coords.length), closed });
  });
  return found.map(({ level, from, to, closed }) => ({ level, coords: all.subarray(from, to), closed }));
}

/** Follows the chords: first the lines that begin at the grid's edge or at a void, then what is left, which are rings. */
function trace(
  { column: left, row: top, columns, heights }: HeightWindow,
  stepM: number,
  { count, edge, level, next, entered }: Crossings,
  emit: (line: ContourLine) => void,
): void {
  let coords = new Float64Array(1 << 12);
  let length = 0;
  const visit = (i: number): void => {
    if (length + 2 > coords.length) {
      const larger = new Float64Array(coords.length * 2);
      larger.set(coords);
      coords = larger;
    }
    const sample = edge[i]! >>> 1;
    const vertical = edge[i]! & 1;
    const a = heights[sample]!;
    const b = heights[sample + (vertical ? columns : 1)]!;
    const t = Math.min(1 - CLEAR, Math.max(CLEAR, (level[i]! * stepM - a) / (b - a)));
    const column = sample % columns;
    coords[length++] = vertical ? left + column : left + column + t;
    coords[length++] = top + (sample - column) / columns + (vertical ? t : 0);
  };
  const follow = (start: number): void => {
    length = 0;
    let i = start;
    do {
      visit(i);
      const to = next[i]!;
      // Taken: what is left after the open lines are the rings.
      next[i] = -1;
      i = to;
    } while (i >= 0 && i !== start);
    const closed = i === start;
    if (closed) {
      coords[length] = coords[0]!;
      coords[length + 1] = coords[1]!;
      length += 2;
    }
    if (length >= 4) emit({ level: level[start]!, coords: coords.subarray(0, length), closed });
  };
  for (const openOnly of [true, false])
    for (let i = 0; i < count; i++) if (next[i]! >= 0 && (!openOnly || entered[i] === 0)) follow(i);
}
