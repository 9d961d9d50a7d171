/**
 * The tool itself, where it is installed, over every cell; what always runs are the fixtures transcribed from it.
 * Sight is not compared so: gdal_viewshed of GDAL 3.6.2 hides some samples that nothing can stand before, those next to the
 * observer among them. See line-of-sight.test.ts for its answers, and for sight worked out without it.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import proj4 from "proj4";
import type { ElevationGrid } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { slopeAt } from "../../../core/terrain/slope-at.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { modelOf, realGround } from "./support/real-ground.ts";

const TOOLS = ["gdaldem", "gdal_translate"];
const missing = TOOLS.filter((tool) => {
  try {
    execFileSync(tool, ["--version"], { stdio: "ignore" });
    return false;
  } catch (e) {
    return (e as NodeJS.ErrnoException).code === "ENOENT";
  }
});
const model = fileURLToPath(
  new URL("../../fixtures/elevation/bigtujunga-crop-srtm30m-epsg32611.tif", import.meta.url),
);

describe.skipIf(missing.length > 0)(
  `by GDAL's own tools${missing.length > 0 ? `: SKIPPED, not installed: ${missing.join(", ")}` : ""}`,
  () => {
    let folder: string;
    let ground: Ground;
    let grid: ElevationGrid;
    let lonLatOf: (column: number, row: number) => LonLat;
    /** Runs a tool that writes a raster, and reads that as 32-bit floats, row by row. */
    const raster = (
      name: string,
      run: (out: string) => readonly [tool: string, ...args: string[]],
    ): Float32Array => {
      const [tif, flat] = [join(folder, `${name}.tif`), join(folder, `${name}.bin`)];
      const [tool, ...args] = run(tif);
      execFileSync(tool, args, { stdio: "pipe" });
      execFileSync("gdal_translate", ["-q", "-of", "ENVI", "-ot", "Float32", tif, flat], { stdio: "pipe" });
      const bytes = readFileSync(flat);
      return new Float32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength));
    };
    beforeAll(async () => {
      folder = mkdtempSync(join(tmpdir(), "gdal-live-"));
      grid = await modelOf("bigtujunga");
      ground = await realGround("bigtujunga", 20);
      await prepareGround(ground, [-118.22, 34.29, -118.11, 34.38]);
      const utm = proj4("+proj=utm +zone=11 +datum=WGS84 +units=m", "EPSG:4326");
      lonLatOf = (c, r) => {
        const [x, y] = [grid.origin[0] + c * grid.step[0], grid.origin[1] + r * grid.step[1]];
        const [lon, lat] = utm.forward<[number, number]>([x, y]);
        return [lon, lat];
      };
    }, 120_000);
    afterAll(() => rmSync(folder, { recursive: true }));

    it("slopes are gdaldem's within half a degree on 95 % of all cells", () => {
      const slopes = raster("slope", (out) => ["gdaldem", "slope", "-q", model, out]);
      let [near, all] = [0, 0];
      for (let r = 1; r < grid.rows - 1; r++)
        for (let c = 1; c < grid.columns - 1; c++) {
          const slope = slopeAt(ground.elevation!, lonLatOf(c, r));
          all++;
          if (slope && Math.abs(slope.deg - slopes[r * grid.columns + c]!) <= 0.5) near++;
        }
      expect(all).toBe((grid.rows - 2) * (grid.columns - 2));
      expect(near / all).toBeGreaterThanOrEqual(0.95);
    }, 60_000);
  },
);
