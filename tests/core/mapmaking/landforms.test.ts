/** Ridge and valley lines and spot heights on surfaces whose ridges, valleys, summits and saddles are known. */
import { describe, expect, it } from "vitest";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { flowOf, type Surface } from "../../../core/mapmaking/flow.ts";
import { type GroundLine, groundLineLimits, groundLines } from "../../../core/mapmaking/ridges.ts";
import { spotHeights } from "../../../core/mapmaking/spot-heights.ts";
import { quietly } from "./elevation-fixture.ts";

const CELL = 20;
function ground(
  columns: number,
  rows: number,
  height: (c: number, r: number) => number,
): { grid: ElevationGrid; surface: Surface } {
  const heights = Float32Array.from({ length: columns * rows }, (_, i) =>
    height(i % columns, Math.floor(i / columns)),
  );
  return {
    grid: { key: "test", columns, rows, heights, origin: [0, 0], step: [1, -1], crs: WGS84 },
    surface: { columns, rows, heights, cellM: CELL, cellWidthM: () => CELL },
  };
}

async function ridgesOf({ grid, surface }: ReturnType<typeof ground>): Promise<GroundLine[]> {
  const flow = await flowOf({ ...surface, heights: surface.heights.map((h) => -h) }, quietly);
  return groundLines(grid, surface, flow, 1, groundLineLimits(CELL), null);
}
async function valleysOf(
  { grid, surface }: ReturnType<typeof ground>,
  taken: Uint8Array | null = null,
): Promise<GroundLine[]> {
  return groundLines(grid, surface, await flowOf(surface, quietly), -1, groundLineLimits(CELL), taken);
}

describe("ridge and valley lines", () => {
  /** Parallel ridges every 40 columns from column 20, valleys between, sides 1 in 4, all tilted south by 1 in 40. */
  const folds = ground(161, 121, (c, r) => 800 + 5 * Math.abs((c % 40) - 20) * -1 - 0.5 * r);

  it("run along the crests and floors of folded ground", async () => {
    const ridges = await ridgesOf(folds);
    const valleys = await valleysOf(folds);
    // Crests at columns 20, 60, 100, 140; floors at 40, 80, 120 (0 and 160 are the model's edge).
    for (const [lines, columns] of [
      [ridges, [20, 60, 100, 140]],
      [valleys, [40, 80, 120]],
    ] as const) {
      const found = new Set<number>();
      for (const { coords, lengthM } of lines) {
        expect(lengthM).toBeGreaterThanOrEqual(300);
        for (let i = 0; i < coords.length; i += 2) {
          const nearest = columns.reduce((best, c) =>
            Math.abs(c - coords[i]!) < Math.abs(best - coords[i]!) ? c : best,
          );
          expect(Math.abs(coords[i]! - nearest)).toBeLessThan(1);
          found.add(nearest);
        }
      }
      expect([...found].sort((a, b) => a - b)).toEqual(columns);
    }
  });

  it("are not seen on an even slope or a plain", async () => {
    const slope = ground(120, 120, (c, r) => 500 - 3 * r + 0.01 * (c % 7));
    expect(await ridgesOf(slope)).toEqual([]);
    expect(await valleysOf(slope)).toEqual([]);
    const plain = ground(120, 120, (c, r) => 100 + 0.1 * Math.sin(c / 5) + 0.1 * Math.cos(r / 7));
    expect(await ridgesOf(plain)).toEqual([]);
    expect(await valleysOf(plain)).toEqual([]);
  });

  it("leave valleys to the streams that are there", async () => {
    const taken = new Uint8Array(161 * 121);
    for (let r = 0; r < 121; r++) taken[r * 161 + 80] = 1;
    const valleys = await valleysOf(folds, taken);
    expect(valleys.length).toBeGreaterThan(0);
    for (const { coords } of valleys)
      for (let i = 0; i < coords.length; i += 2) expect(Math.abs(coords[i]! - 80)).toBeGreaterThan(10);
  });
});

describe("spot heights", () => {
  /** Three round hills: 300 m, 250 m and 205 m high, their cones 1 m a cell, so that saddles are where cones meet. */
  const hills = [
    [30, 50, 300],
    [90, 50, 250],
    [110, 50, 205],
  ] as const;
  const three = ground(141, 101, (c, r) =>
    Math.max(...hills.map(([x, y, h]) => h - Math.hypot(c - x, r - y))),
  );

  it("are the summits by prominence and the saddles between them", () => {
    const spots = spotHeights(three.surface, { prominenceM: 2, apartM: 100 });
    const at = (c: number, r: number): number => r * 141 + c;
    const summits = spots.filter((s) => s.class === "summit");
    // The 205 m cone is buried: 250 − 20 = 230 m is above it. The 250 m cone's saddle to the 300 m one lies where
    // 300 − x = 250 − (60 − x), x = 55, at 245 m: prominence 5 m.
    expect(summits.map((s) => [s.sample, s.heightM])).toEqual([
      [at(30, 50), 300],
      [at(90, 50), 250],
    ]);
    expect(summits[1]!.prominenceM).toBeCloseTo(5, 3);
    const saddles = spots.filter((s) => s.class === "saddle");
    expect(saddles.map((s) => s.sample)).toEqual([at(85, 50)]);
    expect(saddles[0]!.heightM).toBeCloseTo(245, 3);
  });

  it("keep apart", () => {
    const spots = spotHeights(three.surface, { prominenceM: 2, apartM: 150 });
    // Saddle and summit are 5 cells of 20 m apart: the summit is kept.
    expect(spots.map((s) => s.class)).toEqual(["summit", "summit"]);
  });

  it("leave out bumps lower than the least prominence, and one plateau has one summit", () => {
    const bumps = ground(61, 61, (c, r) =>
      Math.hypot(c - 30, r - 30) < 5 ? 120 : 100 + (c % 3 === 0 && r % 3 === 0 ? 1 : 0),
    );
    const spots = spotHeights(bumps.surface, { prominenceM: 5, apartM: 40 });
    expect(spots.map((s) => [s.class, s.heightM])).toEqual([["summit", 120]]);
  });
});
