/** Joining, cutting and resampling by gdalwarp, where it is installed, sample by sample. */
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import type { ElevationGrid } from "../../../../core/mapmaking/elevation/elevation-grid.ts";
import { readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { compare, fileAt, missingTools, run, scratch, skipNote, valuesOf } from "./support/gdal.ts";

const fixture = (name: string): string =>
  fileURLToPath(new URL(`../../../fixtures/elevation/${name}.tif`, import.meta.url));
const jacksboro = fixture("jacksboro-srtm3-epsg4326");
const tujunga = fixture("bigtujunga-crop-srtm30m-epsg32611");

describe.skipIf(missingTools.length > 0)(`models joined, cut and resampled by gdalwarp${skipNote}`, () => {
  const { path, remove } = scratch();
  afterAll(remove);
  /** A grid as gdalwarp is told to make the same: outer corners and size. */
  const like = ({ origin, step, columns, rows }: ElevationGrid): string[] => [
    "-te",
    ...[origin[0] - step[0] / 2, origin[1] + (rows - 0.5) * step[1]].map(String),
    ...[origin[0] + (columns - 0.5) * step[0], origin[1] - step[1] / 2].map(String),
    "-ts",
    String(columns),
    String(rows),
  ];
  const warped = (name: string, from: readonly string[], args: readonly string[]): Float64Array => {
    const out = path(`${name}.tif`);
    run("gdalwarp", [
      "-q",
      "-overwrite",
      "-et",
      "0",
      "-ot",
      "Float32",
      "-dstnodata",
      "-9999",
      ...args,
      ...from,
      out,
    ]);
    return valuesOf(out);
  };

  it("a model in degrees brought into UTM, bilinear", async () => {
    // At 70 m no cell is larger than the source's, 74 by 92 m: beyond that gdalwarp widens its kernel.
    const { grid } = await readModels([fileAt(jacksboro)], { gridCrs: "EPSG:32616", cellM: 70 });
    const theirs = warped("utm", [jacksboro], ["-t_srs", "EPSG:32616", "-r", "bilinear", ...like(grid)]);
    const ours = grid.heights;
    let [most, both, one] = [0, 0, 0];
    for (let i = 0; i < ours.length; i++) {
      const [a, b] = [ours[i]!, theirs[i]!];
      if (Number.isNaN(a) || b === -9999) one += Number.isNaN(a) === (b === -9999) ? 0 : 1;
      else {
        both++;
        most = Math.max(most, Math.abs(a - b));
      }
    }
    expect(both).toBeGreaterThan(110_000);
    expect(most).toBeLessThan(0.1);
    // Along the edge rounding decides which samples are still in.
    expect(one).toBeLessThan(300);
  });

  it("a model made coarser by whole and by broken factors: the mean over each cell", async () => {
    for (const factor of [2, 4, 2.5]) {
      const { grid } = await readModels([fileAt(tujunga)], { cellM: 30 * factor });
      const theirs = warped(`mean-${factor}`, [tujunga], ["-r", "average", ...like(grid)]);
      const { unlike } = compare(grid.heights, theirs, -9999);
      // The last column of the fourfold cells reaches beyond the model; there GDAL weighs what is left differently.
      const inside = (_: unknown, i: number): boolean => ((i % grid.columns) + 1) * factor <= 250;
      const { most } = compare(grid.heights.filter(inside), theirs.filter(inside), -9999);
      expect({ factor, unlike }).toEqual({ factor, unlike: 0 });
      expect(most, `${factor}`).toBeLessThan(0.01);
    }
  });

  it("a finer grid: bilinear", async () => {
    const { grid } = await readModels([fileAt(tujunga)], { cellM: 10 });
    const theirs = warped("finer", [tujunga], ["-r", "bilinear", ...like(grid)]);
    const { most, unlike } = compare(grid.heights, theirs, -9999);
    expect(unlike).toBe(0);
    expect(most).toBeLessThan(0.01);
  });

  it("cuts out an area without touching a height", async () => {
    const { grid } = await readModels([fileAt(jacksboro)], { bounds: [-84.3, 36.5, -84.2, 36.6] });
    const cut = path("cut.tif");
    run("gdal_translate", ["-q", "-projwin", ...projwin(grid), jacksboro, cut]);
    expect(compare(grid.heights, valuesOf(cut), Number.NaN)).toEqual({ most: 0, unlike: 0 });
    const [west, north] = grid.origin;
    expect(west).toBeLessThanOrEqual(-84.3);
    expect(west).toBeGreaterThan(-84.3 - 1 / 1200);
    expect(north).toBeGreaterThanOrEqual(36.6);
    expect(west + (grid.columns - 1) * grid.step[0]).toBeGreaterThanOrEqual(-84.2);
    expect(north + (grid.rows - 1) * grid.step[1]).toBeLessThanOrEqual(36.5);
  });

  it("two neighbours that share a column, away from the seam", async () => {
    const [west, east] = [fixture("kinds/sanfrancisco-west"), fixture("kinds/sanfrancisco-east")];
    const { grid } = await readModels([fileAt(west), fileAt(east)]);
    const theirs = warped("neighbours", [west, east], ["-r", "near", ...like(grid)]);
    // The western one ends with column 23. A bilinear gdalwarp gives the same where the grids are the same.
    const away = (_: unknown, i: number): boolean => Math.abs((i % grid.columns) - 23) > 1;
    const { most, unlike } = compare(grid.heights.filter(away), theirs.filter(away), -9999);
    expect(unlike).toBe(0);
    expect(most).toBeLessThan(0.5);
  });

  it("two models in two systems become one without a gap at the seam", async () => {
    // The same ground: its western half in degrees, its eastern in UTM, overlapping by some 20 cells.
    const [west, east] = [path("west.tif"), path("east.tif")];
    run("gdal_translate", ["-q", "-srcwin", "0", "0", "220", "344", jacksboro, west]);
    run("gdalwarp", [
      "-q",
      "-t_srs",
      "EPSG:32616",
      "-r",
      "bilinear",
      "-ot",
      "Float32",
      "-dstnodata",
      "-9999",
      "-te_srs",
      "EPSG:4326",
      "-te",
      "-84.27",
      "36.4",
      "-84.05",
      "36.78",
      jacksboro,
      east,
    ]);
    const { grid } = await readModels([fileAt(west), fileAt(east)], { gridCrs: "EPSG:4326", cellM: 70 });
    const theirs = warped("one", [jacksboro], ["-r", "bilinear", ...like(grid)]);
    let [voids, squares, count] = [0, 0, 0];
    for (let row = 0; row < grid.rows; row++)
      for (let column = 0; column < grid.columns; column++) {
        const i = row * grid.columns + column;
        const [lon, lat] = [grid.origin[0] + column * grid.step[0], grid.origin[1] + row * grid.step[1]];
        // Well inside the model: at its very edge, rounding decides.
        if (lon < -84.41 || lon > -84.08 || lat < 36.45 || lat > 36.73) continue;
        if (Number.isNaN(grid.heights[i])) voids++;
        else {
          squares += (grid.heights[i]! - theirs[i]!) ** 2;
          count++;
        }
      }
    expect(voids).toBe(0);
    // What was interpolated twice is smoother than what was interpolated once: two metres in this steep ground.
    expect(Math.sqrt(squares / count)).toBeLessThan(2.5);
  });

  const projwin = ({ origin, step, columns, rows }: ElevationGrid): string[] =>
    [
      origin[0] - step[0] / 2,
      origin[1] - step[1] / 2,
      origin[0] + (columns - 0.5) * step[0],
      origin[1] + (rows - 0.5) * step[1],
    ].map(String);
});
