/**
 * Rock bands: where a hard layer comes out on a slope, ground just below its top is steepened into a scar and the
 * ground above and below eased. The layers dip gently, so scars do not keep to one contour.
 */
import { blurred, gridOf, smoothstep, type HeightGrid } from "./height-grid.ts";
import { octaveNoise } from "./noise.ts";

export interface Band {
  /** Height of the band's middle at the frame's origin, metres. */
  readonly heightM: number;
  /** Rise of the layer per metre east and north. */
  readonly dip: readonly [east: number, north: number];
  /** Half the height of ground it reshapes, metres. */
  readonly reachM: number;
  readonly seed: number;
}

/** Steepens around zero, −1 … 1 to −1 … 1: slope 3.6 in the middle, 0.4 in between, 1 at the ends. */
function stair(u: number): number {
  const a = Math.abs(u);
  const steep = a < 0.16 ? 3.6 * a : 0.576 + (a - 0.16) * 0.5047619;
  return u < 0 ? -steep : steep;
}

/** Cuts the bands in place. */
export function cutScars(grid: HeightGrid, bands: readonly Band[]): void {
  const smooth = blurred(grid, Math.round(60 / grid.cellM));
  const { columns, cellM } = grid;
  const steepness = gridOf(grid, (_e, _n, i) => {
    const dx = (smooth.z[i + 1] ?? 0) - (smooth.z[i - 1] ?? 0);
    const dy = (smooth.z[i + columns] ?? 0) - (smooth.z[i - columns] ?? 0);
    return Math.sqrt(dx * dx + dy * dy) / (2 * cellM);
  });
  for (const band of bands) {
    const reshaped = gridOf(grid, (east, north, i) => {
      const height = grid.z[i] as number;
      const middle = band.heightM + band.dip[0] * east + band.dip[1] * north;
      const u = (height - middle) / band.reachM;
      if (u <= -1 || u >= 1) return height;
      const hard = smoothstep(-0.04, 0.2, octaveNoise(band.seed, east, north, 1700, 3));
      const steepEnough = smoothstep(0.16, 0.25, steepness.z[i] as number);
      return height + hard * steepEnough * (middle + band.reachM * stair(u) - height);
    });
    grid.z.set(reshaped.z);
  }
}
