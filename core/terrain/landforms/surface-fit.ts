/**
 * Slope and curvature of the ground at the size of a landform: a quadratic surface fitted by least squares to the
 * samples around each sample.
 * Source: J. Wood, The geomorphological characterisation of digital elevation models, PhD thesis, University of
 * Leicester (1996), chapter 4, after I. S. Evans (1972). On a full square window the terms separate into rows and columns.
 */
import type { HeightGrid } from "./height-grid.ts";

/** For each sample; x east, y north, metres. NaN where any sample of the window is missing. */
export interface SurfaceFit {
  readonly fx: Float32Array;
  readonly fy: Float32Array;
  readonly fxx: Float32Array;
  readonly fxy: Float32Array;
  readonly fyy: Float32Array;
}

/** Half the side of the window, metres: smaller bumps are smoothed away. No source. */
export const FIT_M = 60;

export function fitSurface(grid: HeightGrid): SurfaceFit {
  const { columns, rows, heights, eastM, southM } = grid;
  const w = Math.max(2, Math.min(6, Math.round(FIT_M / eastM)));
  const count = 2 * w + 1;
  const meanSquare = (w * (w + 1)) / 3;
  let squares = 0;
  let spread = 0;
  for (let k = -w; k <= w; k++) {
    squares += k * k;
    spread += (k * k - meanSquare) ** 2;
  }
  // Along rows: sum, first and second moment of each window.
  const [sum, first, second] = [0, 1, 2].map(() => new Float64Array(heights.length).fill(Number.NaN)) as [
    Float64Array,
    Float64Array,
    Float64Array,
  ];
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
  const [fx, fy, fxx, fxy, fyy] = [0, 1, 2, 3, 4].map(() =>
    new Float32Array(heights.length).fill(Number.NaN),
  ) as [Float32Array, Float32Array, Float32Array, Float32Array, Float32Array];
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
      // Rows run south: what is odd in them changes its sign.
      fx[i] = x / (squares * count) / eastM;
      fy[i] = -y / (squares * count) / southM;
      fxx[i] = (2 * xx) / (spread * count) / (eastM * eastM);
      fxy[i] = -xy / (squares * squares) / (eastM * southM);
      fyy[i] = (2 * yy) / (spread * count) / (southM * southM);
    }
  return { fx, fy, fxx, fxy, fyy };
}
