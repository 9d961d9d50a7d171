/**
 * Slope and curvature of the ground at the size of a landform: a quadratic surface fitted by least squares to the
 * samples around a sample.
 * Source: J. Wood, The geomorphological characterisation of digital elevation models, PhD thesis, University of
 * Leicester (1996), chapter 4, after I. S. Evans (1972). On a full square window the terms separate into rows and columns.
 */
import type { HeightGrid } from "./height-grid.ts";

/** Derivatives of the surface; x east, y north, metres. NaN where any sample of the window is missing. */
export interface Quadric {
  readonly fx: number;
  readonly fy: number;
  readonly fxx: number;
  readonly fxy: number;
  readonly fyy: number;
}

/** Half the side of the window, metres: smaller bumps are smoothed away. No source. */
export const FIT_M = 60;

const UNKNOWN: Quadric = { fx: NaN, fy: NaN, fxx: NaN, fxy: NaN, fyy: NaN };

/** What the least squares of a window come down to. */
interface Window {
  /** Samples to either side of the middle. */
  readonly reach: number;
  /** Mean of the squares of their places, sum of the squares, and of the squares' squared deviations. */
  readonly meanSquare: number;
  readonly squares: number;
  readonly spread: number;
}

function windowOf({ eastM }: HeightGrid): Window {
  const reach = Math.max(2, Math.min(6, Math.round(FIT_M / eastM)));
  const meanSquare = (reach * (reach + 1)) / 3;
  let squares = 0;
  let spread = 0;
  for (let k = -reach; k <= reach; k++) {
    squares += k * k;
    spread += (k * k - meanSquare) ** 2;
  }
  return { reach, meanSquare, squares, spread };
}

/** The sums over a window, as derivatives. Rows run south: what is odd in them changes its sign. */
function quadricOf(
  { eastM, southM }: HeightGrid,
  { reach, squares, spread }: Window,
  [x, y, xx, xy, yy]: readonly [number, number, number, number, number],
): Quadric {
  const count = 2 * reach + 1;
  return {
    fx: x / (squares * count) / eastM,
    fy: -y / (squares * count) / southM,
    fxx: (2 * xx) / (spread * count) / (eastM * eastM),
    fxy: -xy / (squares * squares) / (eastM * southM),
    fyy: (2 * yy) / (spread * count) / (southM * southM),
  };
}

/** Fits asked for here and there, each worked out when first asked for: a leg touches a hundredth of its area. */
export class LocalFit {
  readonly #grid: HeightGrid;
  readonly #window: Window;
  readonly #fitted = new Map<number, Quadric>();

  constructor(grid: HeightGrid) {
    this.#grid = grid;
    this.#window = windowOf(grid);
  }

  /** The surface at a place of the grid, bilinear between samples. */
  at(column: number, row: number): Quadric {
    const c = Math.floor(column);
    const r = Math.floor(row);
    const [u, v] = [column - c, row - r];
    const a = this.sample(c, r);
    if (u === 0 && v === 0) return a;
    const b = this.sample(c + 1, r);
    const d = this.sample(c, r + 1);
    const e = this.sample(c + 1, r + 1);
    const [wa, wb, wd, we] = [(1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v];
    return {
      fx: a.fx * wa + b.fx * wb + d.fx * wd + e.fx * we,
      fy: a.fy * wa + b.fy * wb + d.fy * wd + e.fy * we,
      fxx: a.fxx * wa + b.fxx * wb + d.fxx * wd + e.fxx * we,
      fxy: a.fxy * wa + b.fxy * wb + d.fxy * wd + e.fxy * we,
      fyy: a.fyy * wa + b.fyy * wb + d.fyy * wd + e.fyy * we,
    };
  }

  /** @param c whole number, as is `r` */
  sample(c: number, r: number): Quadric {
    const { columns, rows } = this.#grid;
    const w = this.#window.reach;
    if (!(c >= w && r >= w && c < columns - w && r < rows - w)) return UNKNOWN;
    const i = r * columns + c;
    let fit = this.#fitted.get(i);
    if (!fit) this.#fitted.set(i, (fit = this.#fit(i)));
    return fit;
  }

  #fit(i: number): Quadric {
    const { columns, heights } = this.#grid;
    const { reach: w, meanSquare } = this.#window;
    let [x, y, xx, xy, yy] = [0, 0, 0, 0, 0];
    for (let k = -w; k <= w; k++) {
      const middle = i + k * columns;
      let [sum, first, second] = [0, 0, 0];
      for (let m = -w; m <= w; m++) {
        const h = heights[middle + m]!;
        sum += h;
        first += m * h;
        second += (m * m - meanSquare) * h;
      }
      x += first;
      y += k * sum;
      xx += second;
      xy += k * first;
      yy += (k * k - meanSquare) * sum;
    }
    return quadricOf(this.#grid, this.#window, [x, y, xx, xy, yy]);
  }
}

/** The surfaces at all samples that have a whole window around them, row by row. */
export function fitEverywhere(
  grid: HeightGrid,
  each: (column: number, row: number, fit: Quadric) => void,
): void {
  const { columns, rows, heights } = grid;
  const window = windowOf(grid);
  const { reach: w, meanSquare } = window;
  // Along rows: sum, first and second moment of each window.
  const sum = new Float64Array(heights.length);
  const first = new Float64Array(heights.length);
  const second = new Float64Array(heights.length);
  for (let r = 0; r < rows; r++)
    for (let c = w; c < columns - w; c++) {
      const i = r * columns + c;
      let [a, b, d] = [0, 0, 0];
      for (let k = -w; k <= w; k++) {
        const h = heights[i + k]!;
        a += h;
        b += k * h;
        d += (k * k - meanSquare) * h;
      }
      sum[i] = a;
      first[i] = b;
      second[i] = d;
    }
  for (let r = w; r < rows - w; r++)
    for (let c = w; c < columns - w; c++) {
      const i = r * columns + c;
      let [x, y, xx, xy, yy] = [0, 0, 0, 0, 0];
      for (let k = -w; k <= w; k++) {
        const j = i + k * columns;
        x += first[j]!;
        y += k * sum[j]!;
        xx += second[j]!;
        xy += k * first[j]!;
        yy += (k * k - meanSquare) * sum[j]!;
      }
      each(c, r, quadricOf(grid, window, [x, y, xx, xy, yy]));
    }
}
