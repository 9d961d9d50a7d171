/**
 * Slope classes as marks: dots for the gentlest, then hatching, closer and closer, crossed for the steepest, over a wash
 * that grows. Read by density alone they keep their order in grey and under red light. Pure.
 */
import { slopeClass, slopeInTile, type SlopeTile } from "../../core/terrain/slope-tile.ts";

/** Marks repeat after so many pixels, which divides a tile's side: they run on from tile to tile. */
export const MARKS_PX = 16;
/** Marks are drawn at twice the size they are shown at, so that they are sharp on any screen. */
export const SHARP = 2;

const WASH = [0, 0.05, 0.09, 0.13, 0.18, 0.24, 0.36] as const;
const LINE = [0, 0.55, 0.55, 0.62, 0.7, 0.78, 0.85] as const;

/** Whether a pixel of a class is part of a mark. */
export function isMark(slope: number, x: number, y: number): boolean {
  const p = MARKS_PX;
  const along = (x + y) % p;
  switch (slope) {
    case 0:
      return false;
    case 1:
      return x % p < 2 && y % p < 2;
    case 2:
      return (x % p < 2 && y % p < 2) || ((x + p / 2) % p < 2 && (y + p / 2) % p < 2);
    case 3:
      return along < 2;
    case 4:
      return along % (p / 2) < 2;
    case 5:
      return along % (p / 2) < 4;
    default:
      return along % (p / 2) < 3 || (((x - y) % p) + p) % (p / 2) < 3;
  }
}

/** How strongly a pixel of a class is covered, 0–1. */
export const coverOf = (slope: number, x: number, y: number): number =>
  (isMark(slope, x, y) ? LINE[slope] : WASH[slope]) ?? 0;

/**
 * @param colour red, green, blue, 0–255
 * @returns RGBA, row by row, `sizePx` pixels to a side
 */
export function paintSlope(
  tile: SlopeTile,
  sizePx: number,
  [red, green, blue]: readonly [number, number, number],
): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(sizePx * sizePx * 4);
  for (let y = 0, i = 0; y < sizePx; y++)
    for (let x = 0; x < sizePx; x++, i += 4) {
      const slope = slopeClass(slopeInTile(tile, (x + 0.5) / sizePx, (y + 0.5) / sizePx));
      if (slope === 0) continue;
      rgba[i] = red;
      rgba[i + 1] = green;
      rgba[i + 2] = blue;
      rgba[i + 3] = 255 * coverOf(slope, x, y);
    }
  return rgba;
}

/** "a1b2c3" or "#a1b2c3" as red, green, blue; black for what is none. */
export function channels(hex: string): readonly [number, number, number] {
  const value = /^#?[0-9a-f]{6}$/i.test(hex) ? Number.parseInt(hex.replace("#", ""), 16) : 0;
  return [value >> 16, (value >> 8) & 255, value & 255];
}
