/** Slopes and what becomes of them, against floods by plain breadth-first search on random ground. */
import { describe, expect, it } from "vitest";
import type { HeightGrid } from "../../../../core/terrain/landforms/height-grid.ts";
import { sweepLevels } from "../../../../core/terrain/landforms/level-sweep.ts";
import { fitEverywhere, LocalFit } from "../../../../core/terrain/landforms/surface-fit.ts";

function gridOf(columns: number, rows: number, height: (c: number, r: number) => number): HeightGrid {
  const heights = Float32Array.from({ length: columns * rows }, (_, i) =>
    height(i % columns, Math.floor(i / columns)),
  );
  return {
    columns,
    rows,
    heights,
    eastM: 20,
    southM: 20,
    toLonLat: (c, r) => [c, -r],
    toGrid: ([lon, lat]) => [lon, -lat],
  };
}

/** Rough ground the same every time, with a hole in what is known. */
function rough(seed: number, voids: boolean): HeightGrid {
  let state = seed;
  const random = (): number => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  const waves = Array.from({ length: 12 }, () => [
    random() / 3,
    random() / 3,
    random() * 7,
    1 + random() * 9,
  ]);
  return gridOf(41, 33, (c, r) =>
    voids && Math.hypot(c - 12, r - 20) < 3
      ? Number.NaN
      : waves.reduce((h, [a, b, turn, size]) => h + size! * Math.sin(a! * c + b! * r + turn!), 100),
  );
}

/**
 * The definition itself: from a sample, over its eight neighbours, everything above a level that can be reached; the
 * level falls until something higher than the sample is reached (its prominence) or the end of what is known.
 */
function byFlooding({ columns, rows, heights }: HeightGrid, start: number): number {
  const seen = new Set([start]);
  const border = new Set([start]);
  let lowest = heights[start]!;
  for (;;) {
    let next = -1;
    for (const i of border) if (next < 0 || heights[i]! > heights[next]!) next = i;
    border.delete(next);
    if (heights[next]! > heights[start]!) return heights[start]! - lowest;
    lowest = Math.min(lowest, heights[next]!);
    const [c, r] = [next % columns, Math.floor(next / columns)];
    for (let dr = -1; dr <= 1; dr++)
      for (let dc = -1; dc <= 1; dc++) {
        const j = (r + dr) * columns + c + dc;
        const known = c + dc >= 0 && c + dc < columns && r + dr >= 0 && r + dr < rows;
        if (!known || Number.isNaN(heights[j]!)) return heights[start]! - lowest;
        if (seen.has(j)) continue;
        seen.add(j);
        border.add(j);
      }
  }
}

describe("summits and pits", () => {
  it.each([1, 2, 3, 4, 5, 6].flatMap((seed) => [false, true].map((voids) => ({ seed, voids }))))(
    "of rough ground $seed (voids: $voids) have the prominence that flooding gives",
    ({ seed, voids }) => {
      const grid = rough(seed, voids);
      const under: HeightGrid = { ...grid, heights: grid.heights.map((h) => -h) };
      for (const [up, ground] of [
        [true, grid],
        [false, under],
      ] as const) {
        const { extremes } = sweepLevels(grid, up, 0.5);
        const asked = Array.from(grid.heights.keys()).filter((i) => !Number.isNaN(grid.heights[i]!));
        const expected = asked
          .map((i) => ({ i, reliefM: byFlooding(ground, i) }))
          .filter(({ reliefM }) => reliefM >= 0.5);
        // Of lakes that run off over the edge through another the depth is measured to there: only summits are as flooded.
        if (up) {
          expect(extremes.map((e) => e.sample).toSorted((a, b) => a - b)).toEqual(expected.map(({ i }) => i));
          for (const { sample, reliefM } of extremes)
            expect(reliefM).toBeCloseTo(expected.find(({ i }) => i === sample)!.reliefM, 3);
        } else for (const { i } of expected) expect(extremes.some((e) => e.sample === i)).toBe(true);
      }
    },
  );

  it("of level ground are none, and one of a level top", () => {
    expect(
      sweepLevels(
        gridOf(20, 20, () => 7),
        true,
        0.5,
      ).extremes,
    ).toEqual([]);
    const top = sweepLevels(
      gridOf(20, 20, (c, r) => (Math.hypot(c - 9, r - 11) < 4 ? 30 : 10 - c / 10)),
      true,
      1,
    ).extremes;
    expect(top).toHaveLength(1);
    expect(top[0]!.atLeast).toBe(true);
  });
});

describe("a surface fitted here and there", () => {
  it("is the one fitted everywhere, and a paraboloid's own derivatives", () => {
    // z = 2 + 0.3 x − 0.2 y + 0.004 x² / 2 + 0.001 xy − 0.006 y² / 2 in metres east and north of the middle.
    const at = (c: number, r: number): [number, number] => [20 * (c - 20), -20 * (r - 20)];
    const grid = gridOf(41, 41, (c, r) => {
      const [x, y] = at(c, r);
      return 2 + 0.3 * x - 0.2 * y + 0.002 * x * x + 0.001 * x * y - 0.003 * y * y;
    });
    const local = new LocalFit(grid);
    let count = 0;
    fitEverywhere(grid, (c, r, fit) => {
      count++;
      expect(local.sample(c, r)).toEqual(fit);
      const [x, y] = at(c, r);
      expect(fit.fx).toBeCloseTo(0.3 + 0.004 * x + 0.001 * y, 3);
      expect(fit.fy).toBeCloseTo(-0.2 + 0.001 * x - 0.006 * y, 3);
      expect(fit.fxx).toBeCloseTo(0.004, 5);
      expect(fit.fxy).toBeCloseTo(0.001, 5);
      expect(fit.fyy).toBeCloseTo(-0.006, 5);
    });
    // Windows of 60 m to either side fit into all but three rows and columns at each edge.
    expect(count).toBe(35 * 35);
    expect(local.at(1, 1).fx).toBeNaN();
  });
});
