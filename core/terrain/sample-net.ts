/** Many heights of one net of meridians and parallels at once, bilinear between the pixels of height tiles. */
import { latToShare, lonToShare } from "../map/tile-grid.ts";

export interface HeightPixels {
  /** Pixels along a tile's side, and round the world. */
  readonly size: number;
  readonly worldPx: number;
  /** Heights of a tile, row by row; null where there is none. */
  readonly tile: (x: number, y: number) => Float32Array | null;
}

/** As `ElevationModel.readNet`. */
export function readNet(
  pixels: HeightPixels,
  lons: Float64Array,
  lats: Float64Array,
  out: Float32Array,
): void {
  const { size, worldPx } = pixels;
  const columns = lons.map((lon) => lonToShare(lon) * worldPx - 0.5);
  let at = 0;
  for (const lat of lats) {
    const py = latToShare(lat) * worldPx - 0.5;
    const y = Math.floor(py);
    const v = py - y;
    const ty = Math.floor(y / size);
    const row = y - ty * size;
    let tx = -1;
    let heights: Float32Array | null = null;
    for (const px of columns) {
      const x = Math.floor(px);
      const u = px - x;
      if (Math.floor(x / size) !== tx) {
        tx = Math.floor(x / size);
        heights = pixels.tile(tx, ty);
      }
      const column = x - tx * size;
      if (column + 1 === size || row + 1 === size) {
        out[at++] = overTheEdge(pixels, x, y, u, v);
        continue;
      }
      if (heights === null) {
        out[at++] = Number.NaN;
        continue;
      }
      const i = row * size + column;
      const north = heights[i]! + (heights[i + 1]! - heights[i]!) * u;
      const south = heights[i + size]! + (heights[i + size + 1]! - heights[i + size]!) * u;
      out[at++] = north + (south - north) * v;
    }
  }
}

/** Between pixels of two tiles, or of four. */
function overTheEdge({ size, tile }: HeightPixels, x: number, y: number, u: number, v: number): number {
  const pixel = (px: number, py: number): number => {
    const [tx, ty] = [Math.floor(px / size), Math.floor(py / size)];
    return tile(tx, ty)?.[(py - ty * size) * size + (px - tx * size)] ?? Number.NaN;
  };
  const north = pixel(x, y) + (pixel(x + 1, y) - pixel(x, y)) * u;
  const south = pixel(x, y + 1) + (pixel(x + 1, y + 1) - pixel(x, y + 1)) * u;
  return north + (south - north) * v;
}
