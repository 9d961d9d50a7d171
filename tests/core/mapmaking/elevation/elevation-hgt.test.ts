import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { type Zippable, zipSync } from "fflate";
import { afterAll, describe, expect, it } from "vitest";
import { Fault, type FaultRecord } from "../../../../core/fault.ts";
import { cornerOfName } from "../../../../core/mapmaking/elevation/elevation-hgt.ts";
import { type ElevationFile, memoryFile } from "../../../../core/mapmaking/elevation/elevation-model.ts";
import { openModel, readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { compare, fileAt, missingTools, run, scratch, skipNote, valuesOf } from "./support/gdal.ts";

/**
 * A degree of heights laid out as SRTM_Topo.txt (NASA/USGS) says: 16-bit, most significant byte first, row by row from
 * the north-west, the last row and column shared with the neighbours, −32768 for a void.
 */
function degree(side: number, height: (column: number, row: number) => number): Uint8Array {
  const view = new DataView(new ArrayBuffer(side * side * 2));
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++)
      view.setInt16(2 * (row * side + column), height(column, row));
  return new Uint8Array(view.buffer);
}
const slope = (column: number, row: number): number => (column === 600 && row === 5 ? -32768 : row - column);
const bytes = degree(1201, slope);

async function faultOf(file: ElevationFile): Promise<FaultRecord> {
  try {
    const model = await openModel(file, {});
    await model.heights({ column: 0, row: 0, columns: model.columns, rows: model.rows });
  } catch (thrown) {
    return Fault.from(thrown).toRecord();
  }
  throw new Error("no fault");
}

describe("a .hgt file", () => {
  it("lies where its name says", () => {
    expect(cornerOfName("N46W133.hgt")).toEqual([-133, 46]);
    expect(cornerOfName("s34e020.HGT")).toEqual([20, -34]);
    expect(cornerOfName("N00E006.SRTMGL1.hgt.zip")).toEqual([6, 0]);
    expect(cornerOfName("model.hgt")).toBeNull();
    expect(cornerOfName("N95E010.hgt")).toBeNull();
  });

  it("is read sample by sample, from the north-west", async () => {
    const { grid } = await readModels([memoryFile("S34E020.hgt", bytes)]);
    expect([grid.columns, grid.rows, grid.crs.name]).toEqual([1201, 1201, "EPSG:4326"]);
    expect(grid.origin).toEqual([20, -33]);
    expect(grid.step[0]).toBe(1 / 1200);
    expect(grid.heights[0]).toBe(0);
    expect(grid.heights[1200]).toBe(-1200);
    expect(grid.heights[1200 * 1201]).toBe(1200);
    expect(grid.heights[5 * 1201 + 600]).toBeNaN();
    // One second: 3601 samples a side, and columns at every two beyond 50° of latitude.
    const one = await openModel(memoryFile("N46E010.hgt", new Uint8Array(3601 * 3601 * 2)), {});
    expect([one.columns, one.step[0]]).toEqual([3601, 1 / 3600]);
    const north = await openModel(memoryFile("N60E010.hgt", new Uint8Array(1801 * 3601 * 2)), {});
    expect([north.columns, north.rows, north.step[0]]).toEqual([1801, 3601, 1 / 1800]);
  });

  it("joins its neighbour at the row they share", async () => {
    const north = memoryFile(
      "N47E010.hgt",
      degree(1201, (c, r) => (c % 100) + r),
    );
    const south = memoryFile(
      "N46E010.hgt",
      degree(1201, (c, r) => (c % 100) + r + 1200),
    );
    const { grid } = await readModels([south, north], { bounds: [10.2, 46.9, 10.3, 47.1] });
    for (let row = 0; row < grid.rows; row++) {
      const fromTop = Math.round((48 - (grid.origin[1] + row * grid.step[1])) * 1200);
      const column = Math.round((grid.origin[0] - 10) * 1200);
      expect(grid.heights[row * grid.columns]).toBe((column % 100) + fromTop);
    }
  });

  it("of another size, or without a corner in its name, is refused", async () => {
    expect((await faultOf(memoryFile("N46W133.hgt", bytes.subarray(0, -2)))).what).toContain("2884802");
    const nameless = await faultOf(memoryFile("heights.hgt", bytes));
    expect(nameless).toMatchObject({ code: "no-crs", where: "heights.hgt" });
    expect(nameless.remedy).toContain("N46W133.hgt");
  });
});

describe("a zipped model", () => {
  const zipped = (entries: Zippable): Uint8Array => zipSync(entries, { level: 1 });
  it("is read as it is without the zip", async () => {
    for (const [outer, inner] of [
      ["S34E020.hgt.zip", "S34E020.hgt"],
      ["download.zip", "some/folder/S34E020.hgt"],
      ["S34E020.hgt.zip", "../../heights.hgt"],
    ] as const) {
      const file = memoryFile(outer, zipped({ "readme.txt": new Uint8Array(10), [inner]: bytes }));
      const { grid } = await readModels([file]);
      expect(grid.origin, outer).toEqual([20, -33]);
      expect(grid.heights[1200]).toBe(-1200);
    }
    const folder = new URL("../../../fixtures/elevation/kinds/", import.meta.url);
    const read = (name: string): Uint8Array => Uint8Array.from(readFileSync(new URL(name, folder)));
    const grid = zipped({ "a/corner.asc": read("corner.asc"), "a/corner.prj": read("corner.prj") });
    expect((await readModels([memoryFile("grid.zip", grid)])).grid.columns).toBe(40);
  });

  it("of none or several models, or damaged, is refused by one clear error", async () => {
    expect((await faultOf(memoryFile("a.zip", zipped({ "a.txt": bytes })))).what).toContain(
      "no elevation model",
    );
    expect(
      (await faultOf(memoryFile("a.zip", zipped({ "N01E001.hgt": bytes, "N01E002.hgt": bytes })))).what,
    ).toContain("2 elevation models");
    const whole = zipped({ "N01E001.hgt": bytes });
    for (const length of [4, 30, 1000, whole.length - 30]) {
      const fault = await faultOf(memoryFile("N01E001.hgt.zip", whole.slice(0, length)));
      expect(fault.code, `${length}`).toBe("bad-elevation");
      expect(fault.where).toBe("N01E001.hgt.zip");
    }
    const many = Object.fromEntries(Array.from({ length: 300 }, (_, i) => [`${i}.txt`, new Uint8Array(1)]));
    expect((await faultOf(memoryFile("a.zip", zipped(many)))).what).toContain("more than 200");
  });

  it("that is a bomb is refused before it goes off", async () => {
    // 700 MB of nothing in 700 kB; and a size that is a lie.
    const honest = zipSync({ "N01E001.hgt": [new Uint8Array(2 ** 20), { level: 9 }] });
    const claims = honest.slice();
    const view = new DataView(claims.buffer);
    const central = claims.length - 22 - (46 + 11);
    expect(view.getUint32(central, true)).toBe(0x02014b50);
    view.setUint32(central + 24, 0xfff00000, true);
    const fault = await faultOf(memoryFile("N01E001.hgt.zip", claims));
    expect(fault.what).toContain("claims to unpack to");
    // A size smaller than what comes out: what is too much is never kept.
    view.setUint32(central + 24, 1000, true);
    expect((await faultOf(memoryFile("N01E001.hgt.zip", claims))).code).toBe("bad-elevation");
  });
});

describe.skipIf(missingTools.length > 0)(`.hgt files as GDAL writes them${skipNote}`, () => {
  const { path, remove } = scratch();
  afterAll(remove);
  it("are read as GDAL reads them", async () => {
    const model = fileURLToPath(
      new URL("../../../fixtures/elevation/jacksboro-srtm3-epsg4326.tif", import.meta.url),
    );
    const half = 1 / 2400;
    const around = [
      "-te",
      `${-85 - half}`,
      `${36 - half}`,
      `${-84 + half}`,
      `${37 + half}`,
      "-ts",
      "1201",
      "1201",
    ];
    run("gdalwarp", ["-q", ...around, "-r", "near", "-dstnodata", "-32768", model, path("whole.tif")]);
    execFileSync("gdal_translate", ["-q", "-of", "SRTMHGT", path("whole.tif"), path("N36W085.hgt")]);
    const { grid } = await readModels([fileAt(path("N36W085.hgt"))]);
    expect(compare(grid.heights, valuesOf(path("N36W085.hgt")), -32768)).toEqual({ most: 0, unlike: 0 });
    expect(grid.heights.filter((h) => !Number.isNaN(h)).length).toBeGreaterThan(80_000);
  });
});
