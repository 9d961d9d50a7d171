import { describe, expect, it } from "vitest";
import { latToShare, lonToShare } from "../../../core/map/tile-grid.ts";
import { ModelCells, type ModelGrid, modelGridOf } from "../../../core/terrain/model-cells.ts";
import proj4 from "proj4";

/** A rough model of 30 m in UTM, 2.4° of convergence off north: the same heights every time. */
const grid: ModelGrid = {
  proj: "+proj=utm +zone=33 +datum=WGS84 +units=m +no_defs",
  origin: [700_000, 5_300_000],
  step: [30, -30],
  columns: 40,
  rows: 30,
};
const rough = (c: number, r: number): number =>
  500 + ((Math.imul(c * 7919 + r * 104_729, 2_654_435_761) >>> 8) % 4000) / 100;

/** Bilinear height in the grid, worked out apart from the program. */
function bilinear(column: number, row: number, height = rough): number {
  const c = Math.min(grid.columns - 2, Math.floor(column));
  const r = Math.min(grid.rows - 2, Math.floor(row));
  const [u, v] = [column - c, row - r];
  return (
    (height(c, r) * (1 - u) + height(c + 1, r) * u) * (1 - v) +
    (height(c, r + 1) * (1 - u) + height(c + 1, r + 1) * u) * v
  );
}

const utm = proj4(grid.proj, "EPSG:4326");
const lonLatOf = (column: number, row: number): [number, number] => {
  const [lon, lat] = utm.forward([grid.origin[0] + 30 * column, grid.origin[1] - 30 * row]);
  return [lon, lat];
};

/** Pixels of a zoom with the model's heights at their centres, rounded. */
function pixelsOf(worldPx: number, quantumM: number, height = rough): (x: number, y: number) => number {
  return (x, y) => {
    const lon = ((x + 0.5) / worldPx - 0.5) * 360;
    const lat = (Math.atan(Math.sinh((0.5 - (y + 0.5) / worldPx) * 2 * Math.PI)) * 180) / Math.PI;
    const [e, n] = utm.inverse([lon, lat]);
    const [column, row] = [(e - grid.origin[0]) / 30, (grid.origin[1] - n) / 30];
    if (column < 0 || row < 0 || column > grid.columns - 1 || row > grid.rows - 1) return Number.NaN;
    return Math.round(bilinear(column, row, height) / quantumM) * quantumM;
  };
}

/** Pixels of 6.5 m at 48° N: 4.6 a cell. */
const WORLD_PX = 512 * 2 ** 13;

describe("heights by the model's own grid", () => {
  it("are the model's at every place of a grid that lies askew to the pixels", () => {
    const cells = new ModelCells(grid, WORLD_PX, pixelsOf(WORLD_PX, 1 / 16));
    let worst = 0;
    for (let k = 0; k < 2000; k++) {
      const [column, row] = [((k * 0.754877) % 1) * 39, ((k * 0.56984) % 1) * 29];
      const h = cells.at(lonLatOf(column, row));
      worst = Math.max(worst, Math.abs(h! - bilinear(column, row)));
    }
    // Half of 1/16 m, made larger by reaching from the pixels inside to the cell's corners.
    expect(worst).toBeLessThan(0.1);
    // Between pixels the same ground, rough as it is, is off by metres: the check above can fail.
    const plain = pixelsOf(WORLD_PX, 1 / 16);
    const [lon, lat] = lonLatOf(20, 15);
    const [px, py] = [
      Math.round(lonToShare(lon) * WORLD_PX - 0.5),
      Math.round(latToShare(lat) * WORLD_PX - 0.5),
    ];
    expect(Math.abs((plain(px - 1, py) + plain(px + 1, py)) / 2 - plain(px, py))).toBeGreaterThan(0.2);
  });

  it("are none in cells with a void and outside, and the edge's within half a cell of it", () => {
    const holed = (c: number, r: number): number => (c === 10 && r === 10 ? Number.NaN : rough(c, r));
    const cells = new ModelCells(grid, WORLD_PX, pixelsOf(WORLD_PX, 1 / 16, holed));
    for (const [c, r] of [
      [10.5, 10.5],
      [9.1, 9.1],
      [9.9, 10.9],
    ] as const)
      expect(cells.at(lonLatOf(c, r))).toBeNaN();
    expect(cells.at(lonLatOf(8.9, 10))).toBeCloseTo(bilinear(8.9, 10), 0);
    expect(cells.at(lonLatOf(-0.6, 10))).toBeNaN();
    expect(cells.at(lonLatOf(10, 29.6))).toBeNaN();
    expect(Math.abs(cells.at(lonLatOf(-0.4, 12.5))! - bilinear(0, 12.5))).toBeLessThan(0.2);
  });

  it("are not told where cells have too few pixels", () => {
    // Pixels of 52 m.
    const cells = new ModelCells(grid, 512 * 2 ** 10, pixelsOf(512 * 2 ** 10, 1 / 16));
    expect(cells.at(lonLatOf(20.5, 15.5))).toBeNull();
  });

  it("follow the pixels when told that they changed", () => {
    let higher = 0;
    const below = pixelsOf(WORLD_PX, 1 / 16);
    const cells = new ModelCells(grid, WORLD_PX, (x, y) => below(x, y) + higher);
    const place = lonLatOf(20.3, 15.2);
    const before = cells.at(place)!;
    higher = 100;
    cells.forget();
    expect(cells.at(place)).toBeCloseTo(before + 100, 6);
  });
});

describe("a grid in metadata", () => {
  it("is taken when it is whole, else not at all", () => {
    expect(modelGridOf({ ...grid, other: 1 })).toEqual(grid);
    expect(modelGridOf(undefined)).toBeNull();
    expect(modelGridOf("grid")).toBeNull();
    expect(modelGridOf({ ...grid, proj: "+proj=nothing" })).toBeNull();
    expect(modelGridOf({ ...grid, step: [30, 30] })).toBeNull();
    expect(modelGridOf({ ...grid, step: [30, null] })).toBeNull();
    expect(modelGridOf({ ...grid, columns: 1.5 })).toBeNull();
  });
});
