import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../../core/fault.ts";
import { WGS84 } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { type ElevationModel, memoryFile } from "../../../../core/mapmaking/elevation/elevation-model.ts";
import { mosaic, mosaicBands } from "../../../../core/mapmaking/elevation/mosaic.ts";
import { readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { targetFrame } from "../../../../core/mapmaking/elevation/target-frame.ts";

const folder = new URL("../../../fixtures/elevation/kinds/", import.meta.url);
const fixture = (name: string) => memoryFile(name, Uint8Array.from(readFileSync(new URL(name, folder))));
const told = (
  JSON.parse(readFileSync(new URL("values.json", folder), "utf8")) as Record<
    "mosaic",
    { origin: [number, number]; size: [number, number]; heights: (number | null)[] }
  >
).mosaic;

/** A model given by a formula over its own columns and rows. */
function model(
  [columns, rows]: readonly [number, number],
  origin: readonly [number, number],
  stepDeg: number,
  height: (lon: number, lat: number) => number,
): ElevationModel {
  return {
    key: "formula",
    columns,
    rows,
    origin,
    step: [stepDeg, -stepDeg],
    crs: WGS84,
    notes: [],
    heights: async (window) =>
      Float32Array.from({ length: window.columns * window.rows }, (_, i) => {
        const column = window.column + (i % window.columns);
        const row = window.row + Math.floor(i / window.columns);
        return height(origin[0] + column * stepDeg, origin[1] - row * stepDeg);
      }),
  };
}
const join = (...models: ElevationModel[]) => mosaic(models, targetFrame(models, {}));

describe("two models that share a column", () => {
  it("become what gdalwarp makes of them, but for the seam", async () => {
    const files = [fixture("sanfrancisco-west.tif"), fixture("sanfrancisco-east.tif")];
    const { grid } = await readModels(files);
    expect([grid.columns, grid.rows]).toEqual(told.size);
    expect(grid.origin[0]).toBeCloseTo(told.origin[0], 9);
    expect(grid.origin[1]).toBeCloseTo(told.origin[1], 9);
    let [compared, voids] = [0, 0];
    for (const [i, theirs] of told.heights.entries()) {
      const column = i % grid.columns;
      // The western model ends with column 23.
      if (Math.abs(column - 23) <= 1) continue;
      if (theirs === null) {
        expect(grid.heights[i]).toBeNaN();
        voids++;
      } else {
        expect(grid.heights[i]).toBe(theirs);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(1300);
    expect(voids).toBeGreaterThan(50);
    // At the seam itself both have a say: between the two.
    const [west, east] = [(await readModels([files[0]!])).grid, (await readModels([files[1]!])).grid];
    for (let row = 0; row < grid.rows; row++) {
      const [a, b] = [west.heights[row * 24 + 23]!, east.heights[row * 23]!];
      const joined = grid.heights[row * grid.columns + 23]!;
      if (Number.isNaN(a) || Number.isNaN(b)) continue;
      expect(joined).toBeGreaterThanOrEqual(Math.min(a, b));
      expect(joined).toBeLessThanOrEqual(Math.max(a, b));
    }
  });
});

describe("seams", () => {
  it("fall evenly from one model to the other over a wide overlap", async () => {
    // 0 m in the west, 100 m in the east, 20 columns in common: weights 20…1 against 1…20 (closed form).
    const step = 0.001;
    const west = model([60, 60], [10, 46], step, () => 0);
    const east = model([60, 60], [10 + 40 * step, 46], step, () => 100);
    const grid = await join(west, east);
    expect(grid.columns).toBe(100);
    const row = grid.heights.subarray(30 * 100, 31 * 100);
    expect(row[39]).toBe(0);
    expect(row[60]).toBe(100);
    for (let k = 0; k < 20; k++) expect(row[40 + k]).toBeCloseTo((100 * (k + 1)) / 21, 3);
  });

  it("leave a surface alone that both models have", async () => {
    const step = 0.001;
    const plane = (lon: number, lat: number): number => 1000 + 5000 * (lon - 10) + 3000 * (46 - lat);
    const grid = await join(
      model([50, 40], [10, 46], step, plane),
      model([50, 40], [10.0307, 45.9913], step, plane),
    );
    let known = 0;
    for (let i = 0; i < grid.heights.length; i++) {
      const h = grid.heights[i]!;
      if (Number.isNaN(h)) continue;
      known++;
      const [lon, lat] = [
        grid.origin[0] + (i % grid.columns) * step,
        grid.origin[1] - Math.floor(i / grid.columns) * step,
      ];
      // Beyond the outermost samples, up to half a cell, a model goes on level: 8 m a cell, half of that.
      expect(Math.abs(h - plane(lon, lat))).toBeLessThan(4.1);
    }
    expect(known).toBeGreaterThan(2500);
    // The corners neither model covers are voids.
    expect(grid.heights[grid.columns - 1]).toBeNaN();
  });

  it("show a finer model over a coarser one, faded into it at its edge", async () => {
    const coarse = model([40, 40], [10, 46], 0.003, () => 50);
    const fine = model([60, 60], [10.03, 45.97], 0.001, () => 80);
    const grid = await join(coarse, fine);
    const at = (lon: number, lat: number): number =>
      grid.heights[
        Math.round((grid.origin[1] - lat) / 0.001) * grid.columns + Math.round((lon - grid.origin[0]) / 0.001)
      ]!;
    expect(at(10.01, 45.99)).toBe(50);
    expect(at(10.06, 45.94)).toBe(80);
    // Sixteen cells fade in: by a sixteenth of the 30 m at each (closed form).
    for (let k = 0; k < 16; k++)
      expect(at(10.03 + k * 0.001, 45.94)).toBeCloseTo(50 + (30 * (k + 1)) / 16, 3);
  });

  it("never let a void of one model hide another's heights", async () => {
    const step = 0.001;
    const holed = model([40, 40], [10, 46], step, (lon, lat) =>
      Math.hypot(lon - 10.02, lat - 45.98) < 0.005 ? Number.NaN : 10,
    );
    const whole = model([40, 40], [10, 46], step, () => 20);
    const grid = await join(holed, whole);
    expect(grid.heights.some((h) => Number.isNaN(h))).toBe(false);
    expect(grid.heights[20 * 40 + 20]).toBe(20);
  });

  it("leave a gap between models a void", async () => {
    const grid = await join(
      model([10, 10], [10, 46], 0.001, () => 1),
      model([10, 10], [10.02, 46], 0.001, () => 2),
    );
    expect(grid.columns).toBe(30);
    expect([...grid.heights.subarray(8, 22)].map((h) => (Number.isNaN(h) ? 0 : h))).toEqual([
      1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 2, 2,
    ]);
  });
});

describe("heights some rows at a time", () => {
  it("are those of the whole, wherever the bands end", async () => {
    const wave = (lon: number, lat: number): number => 500 + 200 * Math.sin(90 * lon) * Math.cos(70 * lat);
    const holed = (lon: number, lat: number): number =>
      Math.hypot(lon - 10.2, lat - 45.9) < 0.02 ? Number.NaN : wave(lon, lat) + 10;
    const sets: readonly (readonly ElevationModel[])[] = [
      [model([300, 400], [10, 46], 0.001, wave)],
      [model([300, 400], [10, 46], 0.001, wave), model([300, 300], [10.15, 45.95], 0.001, holed)],
      [model([150, 200], [10, 46], 0.003, wave), model([300, 500], [10.1004, 45.9503], 0.0009, holed)],
    ];
    for (const [n, models] of sets.entries()) {
      const target = targetFrame(models, {});
      const whole = (await mosaic(models, target)).heights;
      let at = 0;
      let unlike = 0;
      let bands = 0;
      for await (const band of mosaicBands(models, target, undefined, target.columns * 70)) {
        bands++;
        for (const h of band) if (!Object.is(h, whole[at++])) unlike++;
      }
      expect({ n, at, unlike }).toEqual({ n, at: whole.length, unlike: 0 });
      expect(bands).toBeGreaterThan(4);
    }
  });
});

describe("an area", () => {
  const files = [fixture("sanfrancisco-west.tif")];
  const faultOf = (bounds: readonly [number, number, number, number]): Promise<Fault> =>
    readModels(files, { bounds }).then(
      () => Promise.reject(new Error("no fault")),
      (thrown: unknown) => Fault.from(thrown),
    );
  it("outside the models says where they lie", async () => {
    const fault = await faultOf([10, 46, 11, 47]);
    expect(fault.code).toBe("out-of-range");
    expect(fault.what).toContain("-122.409");
    expect(fault.remedy).toContain("within");
  });
  it("with latitude and longitude exchanged says so", async () => {
    const fault = await faultOf([37.792, -122.408, 37.798, -122.404]);
    expect(fault.remedy).toContain("exchanged");
  });
  it("that reaches beyond them is made as far as they go, and told", async () => {
    const { grid, notes } = await readModels(files, { bounds: [-122.42, 37.78, -122.405, 37.795] });
    expect(grid.columns).toBeGreaterThan(14);
    expect(notes.join(" ")).toContain("reaches beyond");
  });
  it("made of cells too small is refused before anything is reserved", async () => {
    const fault = await readModels(files, { cellM: 0.01 }).catch((thrown: unknown) => Fault.from(thrown));
    expect(fault).toMatchObject({ code: "bad-elevation" });
  });
});
