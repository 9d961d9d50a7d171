import { describe, expect, it } from "vitest";
import { type ElevationGrid, WGS84 } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { fillGrid } from "../../../../core/mapmaking/elevation/fill-voids.ts";

const SIZE = 41;
function gridOf(
  height: (x: number, y: number) => number,
  isVoid: (x: number, y: number) => boolean,
): ElevationGrid {
  const heights = Float32Array.from({ length: SIZE * SIZE }, (_, i) => {
    const [x, y] = [(i % SIZE) - 20, Math.floor(i / SIZE) - 20];
    return isVoid(x, y) ? Number.NaN : height(x, y);
  });
  return {
    key: "test",
    columns: SIZE,
    rows: SIZE,
    heights,
    origin: [10, 46],
    step: [0.001, -0.001],
    crs: WGS84,
  };
}
const voids = (grid: ElevationGrid): number => grid.heights.filter((h) => Number.isNaN(h)).length;

describe("filling voids", () => {
  it("gives back a surface that is the mean of its neighbours everywhere", async () => {
    // Planes and x² − y² satisfy the five-point Laplace equation exactly (closed form).
    for (const surface of [
      (x: number, y: number): number => 300 + 7 * x - 4 * y,
      (x: number, y: number): number => 300 + 0.5 * (x * x - y * y),
    ]) {
      const hole = (x: number, y: number): boolean =>
        Math.hypot(x, y) < 6 || (Math.abs(x - 12) < 3 && Math.abs(y) < 2);
      const { grid, filled, left } = await fillGrid(gridOf(surface, hole), 15);
      expect(left).toBe(0);
      expect(filled).toBe(voids(gridOf(surface, hole)));
      for (let i = 0; i < grid.heights.length; i++)
        expect(Math.abs(grid.heights[i]! - surface((i % SIZE) - 20, Math.floor(i / SIZE) - 20))).toBeLessThan(
          0.01,
        );
    }
  });

  it("marks what it filled, and nothing else", async () => {
    const hole = (x: number, y: number): boolean => Math.abs(x) < 2 && Math.abs(y) < 2;
    const before = gridOf(() => 100, hole);
    const { grid } = await fillGrid(before, 5);
    for (let i = 0; i < before.heights.length; i++)
      expect(grid.filled?.[i], `${i}`).toBe(Number.isNaN(before.heights[i]) ? 1 : 0);
    expect(voids(before)).toBe(9);
  });

  it("leaves wider voids, those at the edge, and all when nothing is asked", async () => {
    const wide = gridOf(
      () => 1,
      (x, y) => Math.abs(x) <= 5 && Math.abs(y) <= 5,
    );
    expect((await fillGrid(wide, 10)).filled).toBe(0);
    expect((await fillGrid(wide, 11)).filled).toBe(121);
    // A long void counts by its width.
    const long = gridOf(
      () => 1,
      (x, y) => Math.abs(x) <= 1 && Math.abs(y) <= 15,
    );
    expect((await fillGrid(long, 3)).filled).toBe(93);
    const edge = gridOf(
      () => 1,
      (x) => x < -18,
    );
    expect(await fillGrid(edge, 100)).toMatchObject({ filled: 0, left: 82 });
    expect((await fillGrid(wide, 0)).grid).toBe(wide);
    expect((await fillGrid(wide, 0)).grid.filled).toBeUndefined();
  });
});
