/**
 * Voids of a real model filled, held to a plain solution of the same equation: each height the mean of its four
 * neighbours', by repeated averaging (Jacobi), which shares nothing with the program. Areas by hand.
 */
import { classifyRings } from "@mapbox/vector-tile";
import { describe, expect, it } from "vitest";
import type { ElevationGrid } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { fillGrid, fillVoids } from "../../../core/mapmaking/elevation/fill-voids.ts";
import { type CellBox, gridSource } from "../../../core/mapmaking/height-source.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { pace } from "../../../core/mapmaking/pace.ts";
import { MODELS, readModel } from "./elevation-fixture.ts";
import { openArchive, vectorTileAt } from "./read-back.ts";

/** A bent hole, and one beside it that touches it at a corner only. */
const inHole = (c: number, r: number): boolean =>
  (c >= 60 && c < 72 && r >= 50 && r < 56) ||
  (c >= 66 && c < 72 && r >= 56 && r < 70) ||
  (c >= 72 && c < 75 && r >= 70 && r < 73);

/** The north-western corner of the model, so that it is soon done. */
const SIDE = 90;

async function holed(): Promise<{ readonly whole: ElevationGrid; readonly grid: ElevationGrid }> {
  const model = await readModel(MODELS[0]);
  const at = (i: number): number => Math.floor(i / SIDE) * model.columns + (i % SIDE);
  const heights = Float32Array.from({ length: SIDE * SIDE }, (_, i) => model.heights[at(i)]!);
  const whole = { ...model, columns: SIDE, rows: SIDE, heights };
  const isVoid = (i: number): boolean => inHole(i % SIDE, Math.floor(i / SIDE));
  return { whole, grid: { ...whole, heights: heights.map((h, i) => (isVoid(i) ? Number.NaN : h)) } };
}

function averaged({ heights, columns }: ElevationGrid): Float64Array {
  const now = Float64Array.from(heights, (h) => (Number.isNaN(h) ? 0 : h));
  const holes = [...heights.keys()].filter((i) => Number.isNaN(heights[i]));
  for (let round = 0; round < 4000; round++) {
    const means = holes.map((i) => (now[i - 1]! + now[i + 1]! + now[i - columns]! + now[i + columns]!) / 4);
    for (const [n, i] of holes.entries()) now[i] = means[n]!;
  }
  return now;
}

describe("filled voids", () => {
  it("are the surface that plain averaging comes to, hole by hole in windows no larger than the holes", async () => {
    const { grid } = await holed();
    const wanted = averaged(grid);
    const heights = grid.heights.slice();
    const seen: CellBox[] = [];
    const source = gridSource({ ...grid, heights });
    const store = {
      ...source,
      window(box: CellBox) {
        seen.push(box);
        return source.window(box);
      },
      put: (row: number, column: number, values: Float32Array): void =>
        heights.set(values, row * grid.columns + column),
    };
    const { filled, left, areas } = await fillVoids(store, 20, pace({}));
    expect({ filled, left }).toEqual({ filled: 12 * 6 + 6 * 14 + 9, left: 0 });
    for (let i = 0; i < heights.length; i++) expect(Math.abs(heights[i]! - wanted[i]!)).toBeLessThan(0.01);
    // Holes with one sample around each: 12 by 20 and 3 by 3.
    expect(seen.slice(-2).map(({ columns, rows }) => [columns, rows])).toEqual([
      [14, 22],
      [5, 5],
    ]);
    // Through the middles between samples, corners cut: 9 squares less four times an eighth.
    const [, small] = areas;
    let twice = 0;
    for (let k = 0; k + 3 < small![0]!.length; k += 2)
      twice += small![0]![k]! * small![0]![k + 3]! - small![0]![k + 2]! * small![0]![k + 1]!;
    expect(Math.abs(twice) / 2).toBeCloseTo(8.5, 9);
  });

  it("are areas of the map, and only there", async () => {
    const { whole, grid } = await holed();
    const about = { title: "T", source: null, date: null, attribution: null, datum: null, invented: false };
    const rest = {
      interval: { value: 20, unit: "m" } as const,
      about,
      derive: { streams: false, ridges: false, spotHeights: false, cliffs: false },
    };
    const made = await makeMap({ elevation: (await fillGrid(grid, 20)).grid, ...rest });
    const archive = openArchive(made.archive);
    const meta = (await archive.getMetadata()) as { legwright: { filled?: string; filledShare?: number } };
    expect(meta.legwright.filled).toBe("filled");
    const { minLon, maxLon, minLat, maxLat } = await archive.getHeader();
    const tile = (lon: number, lat: number): [number, number] => [
      Math.floor(((lon + 180) / 360) * 2 ** 14),
      Math.floor(((1 - Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI) / 2) * 2 ** 14),
    ];
    const [x0, y0] = tile(minLon, maxLat);
    const [x1, y1] = tile(maxLon, minLat);
    let polygons = 0;
    for (let x = x0; x <= x1; x++)
      for (let y = y0; y <= y1; y++) {
        const layer = (await vectorTileAt(archive, 14, x, y))?.layers["filled"];
        if (!layer) continue;
        for (let k = 0; k < layer.length; k++) {
          expect(layer.feature(k).properties).toEqual({ kind: "heights filled in" });
          polygons += classifyRings(layer.feature(k).loadGeometry()).length;
        }
      }
    expect(polygons).toBeGreaterThanOrEqual(2);
    for (const elevation of [grid, whole]) {
      const plain = await openArchive((await makeMap({ elevation, ...rest })).archive).getMetadata();
      expect(plain).not.toHaveProperty("legwright.filled");
      expect(JSON.stringify(plain)).not.toContain('"filled"');
    }
  });
});
