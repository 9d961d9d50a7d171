import { describe, expect, test } from "vitest";
import { SLOPE_CLASSES_DEG, type SlopeTile } from "../../../core/terrain/slope-tile.ts";
import { channels, coverOf, isMark, MARKS_PX, paintSlope } from "../../../renderer/slope/paint-slope.ts";

const level = (deg: number): SlopeTile => ({ cells: 8, deg: new Float32Array(81).fill(deg) });
const SIZE = 64;

/** Mean cover of a picture of one slope, 0–1. */
function meanCover(deg: number): number {
  const rgba = paintSlope(level(deg), SIZE, [116, 48, 106]);
  let sum = 0;
  for (let i = 3; i < rgba.length; i += 4) sum += rgba[i]!;
  return sum / 255 / SIZE ** 2;
}

describe("slope shading", () => {
  test("gets denser with every class, so that it keeps its order in grey and under red light", () => {
    const covers = SLOPE_CLASSES_DEG.map((deg) => meanCover(deg + 1));
    for (let i = 1; i < covers.length; i++) expect(covers[i]! / covers[i - 1]!).toBeGreaterThan(1.25);
  });

  test("leaves gentle and unknown ground bare", () => {
    expect(meanCover(14)).toBe(0);
    expect(meanCover(Number.NaN)).toBe(0);
  });

  test("has marks that differ by shape, not by strength alone", () => {
    const marks = [1, 2, 3, 4, 5, 6].map((slope) => {
      let text = "";
      for (let y = 0; y < MARKS_PX; y++)
        for (let x = 0; x < MARKS_PX; x++) text += isMark(slope, x, y) ? "#" : ".";
      return text;
    });
    expect(new Set(marks).size).toBe(6);
  });

  test("runs on from tile to tile: marks repeat within a tile's side", () => {
    expect(512 % MARKS_PX).toBe(0);
    for (const slope of [1, 2, 3, 4, 5, 6])
      for (let y = 0; y < MARKS_PX; y++)
        for (let x = 0; x < MARKS_PX; x++) {
          expect(coverOf(slope, x + 512, y)).toBe(coverOf(slope, x, y));
          expect(coverOf(slope, x, y + 512)).toBe(coverOf(slope, x, y));
        }
  });

  test("is red alone by night", () => {
    const rgba = paintSlope(level(41), 16, channels("#ff0000"));
    for (let i = 0; i < rgba.length; i += 4) expect([rgba[i + 1], rgba[i + 2]]).toEqual([0, 0]);
  });
});
