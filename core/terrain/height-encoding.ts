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

/** No ground lies beyond these (Challenger Deep −10 935 m, Mount Everest 8 849 m): such a colour is no height. */
const LOWEST_M = -12_000;
const HIGHEST_M = 9_000;

/** Heights in metres in the pixels' own order; NaN for black, for what is wholly transparent, and beyond the earth's. */
export function heightsFromPixels(
  { width, height, channels, data }: Pixels,
  encoding: HeightEncoding,
): Float32Array {
  const heights = new Float32Array(width * height);
  // Both count up from their lowest height, in 256ths or in tenths of a metre.
  const [perM, lowestM] = encoding === "terrarium" ? [256, 32768] : [10, 10000];
  const [least, most] = [(LOWEST_M + lowestM) * perM, (HIGHEST_M + lowestM) * perM];
  const clear = channels === 4;
  for (let i = 0, p = 0; i < heights.length; i++, p += channels) {
    const steps = (data[p] as number) * 65536 + (data[p + 1] as number) * 256 + (data[p + 2] as number);
    const known = steps !== 0 && steps >= least && steps <= most && !(clear && data[p + 3] === 0);
    heights[i] = known ? steps / perM - lowestM : Number.NaN;
  }
  return heights;
}

/**
 * The way in which nearly all colours of a picture are heights on earth: no height in one is a height in the other, so
 * that a picture tells. Null when neither fits, or there is nothing but voids.
 */
export function encodingThatFits(pixels: Pixels): HeightEncoding | null {
  const shares = (["terrarium", "mapbox"] as const).map((encoding) => {
    const heights = heightsFromPixels(pixels, encoding);
    return { encoding, known: heights.reduce((n, h) => n + (Number.isNaN(h) ? 0 : 1), 0) };
  });
  const [best, other] = shares.toSorted((a, b) => b.known - a.known);
  return best && other && best.known > 10 * other.known ? best.encoding : null;
}
