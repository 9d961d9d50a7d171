/** Heights written as colours. */

/** Pixels of one tile: row by row from the north-west, 8 bits a channel. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly channels: number;
  readonly data: ArrayLike<number>;
}

/**
 * "terrarium": red · 256 + green + blue / 256 − 32768 metres; black (−32768 m) is no height.
 * "mapbox": (red · 65536 + green · 256 + blue) / 10 − 10000 metres; black (−10000 m) is no height.
 * Source: MapLibre style specification, sources of type raster-dem, "encoding".
 */
export type HeightEncoding = "terrarium" | "mapbox";

/** Heights in metres in the pixels' own order; NaN for black and for what is wholly transparent. */
export function heightsFromPixels(
  { width, height, channels, data }: Pixels,
  encoding: HeightEncoding,
): Float32Array {
  const heights = new Float32Array(width * height);
  for (let i = 0, p = 0; i < heights.length; i++, p += channels) {
    const r = data[p] as number;
    const g = data[p + 1] as number;
    const b = data[p + 2] as number;
    const none = (r === 0 && g === 0 && b === 0) || (channels === 4 && data[p + 3] === 0);
    if (none) heights[i] = Number.NaN;
    else
      heights[i] =
        encoding === "terrarium" ? r * 256 + g + b / 256 - 32768 : (r * 65536 + g * 256 + b) / 10 - 10000;
  }
  return heights;
}
