import { describe, expect, it } from "vitest";
import { cliffAreas } from "../../../core/mapmaking/cliffs.ts";
import type { Surface } from "../../../core/mapmaking/flow.ts";

const CELL_M = 10;
const surface = (
  columns: number,
  rows: number,
  height: (x: number, y: number) => number,
  cellM = CELL_M,
): Surface => ({
  columns,
  rows,
  heights: Float32Array.from({ length: columns * rows }, (_, i) =>
    height((i % columns) * cellM, Math.floor(i / columns) * cellM),
  ),
  cellM,
  cellWidthM: () => cellM,
});
const areaOf = (ring: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i + 3 < ring.length; i += 2) sum += ring[i]! * ring[i + 3]! - ring[i + 2]! * ring[i + 1]!;
  return Math.abs(sum / 2) * CELL_M ** 2;
};

/** A flat top of 200 m radius, a flank of a given slope down to 400 m, flat ground beyond. */
const mesa =
  (slopeDeg: number) =>
  (x: number, y: number): number =>
    -Math.tan((slopeDeg * Math.PI) / 180) *
    (Math.min(400, Math.max(200, Math.hypot(x - 500, y - 500))) - 200);

describe("steep ground", () => {
  it("is the flank of a round mesa: a ring with a hole, of the area that geometry gives", () => {
    const areas = cliffAreas(surface(101, 101, mesa(50)));
    expect(areas).toHaveLength(1);
    expect(areas[0]).toHaveLength(2);
    const [outer, hole] = areas[0]!.map(areaOf);
    // Circles of 400 m and 200 m. Slopes are taken over three samples: edges are a cell or so in the flank.
    for (const [area, radius] of [
      [outer!, 400],
      [hole!, 200],
    ] as const)
      // prettier-ignore
      expect(Math.abs(Math.sqrt(area / Math.PI) - radius)).toBeLessThan(CELL_M);
  });

  it("is none on a gentler flank, and none where samples lie too far apart to tell", () => {
    expect(cliffAreas(surface(101, 101, mesa(44)))).toEqual([]);
    expect(cliffAreas(surface(101, 101, (x, y) => 9 * mesa(50)(x / 9, y / 9), 90))).toEqual([]);
  });

  it("is none next to voids and on less than four samples", () => {
    const plain = surface(30, 30, () => 100);
    plain.heights[15 * 30 + 15] = Number.NaN;
    expect(cliffAreas(plain)).toEqual([]);
    // Beside a needle of 50 m four samples are 51° steep by Horn's formula, none of them next to another.
    expect(cliffAreas(surface(30, 30, (x, y) => (x === 150 && y === 150 ? 150 : 100)))).toEqual([]);
  });
});
