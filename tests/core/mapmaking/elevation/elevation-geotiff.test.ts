import { writeArrayBuffer } from "geotiff";
import { describe, expect, it } from "vitest";
import { Fault, type FaultRecord } from "../../../../core/fault.ts";
import { readElevation } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { placeGrid } from "../../../../core/mapmaking/elevation/grid-placement.ts";
import { fixtureBytes, readModel } from "../elevation-fixture.ts";

type Keys = Record<string, unknown>;
const degrees: Keys = {
  GTModelTypeGeoKey: 2,
  GTRasterTypeGeoKey: 1,
  GeographicTypeGeoKey: 4326,
  ModelTiepoint: [0, 0, 0, 10, 46, 0],
  ModelPixelScale: [0.25, 0.5, 0],
};
/** A file of 3 by 2 heights: 1 2 3 / 4 5 6 unless told otherwise. */
function geotiff(keys: Keys, values: Float32Array = Float32Array.of(1, 2, 3, 4, 5, 6)): ArrayBuffer {
  return writeArrayBuffer(values, { width: 3, height: 2, ...keys });
}

async function faultOf(bytes: ArrayBuffer, crs?: string): Promise<FaultRecord> {
  try {
    await readElevation(bytes, "model.tif", crs);
  } catch (thrown) {
    return Fault.from(thrown).toRecord();
  }
  throw new Error("no fault");
}

describe("reading a GeoTIFF", () => {
  it("gives the model in degrees that gdalinfo describes", async () => {
    const grid = await readModel("jacksboro-srtm3-epsg4326");
    // gdalinfo -stats: Size is 403, 344; Origin = (-84.41375, 36.732916666666668), Pixel Size = 1/1200 °,
    // AREA_OR_POINT=Area, Minimum=236, Maximum=1076, Mean=531.0311688499. The outer corner is half a pixel off.
    expect([grid.columns, grid.rows, grid.crs.name]).toEqual([403, 344, "EPSG:4326"]);
    expect(grid.origin[0]).toBeCloseTo(-84.41375 + 1 / 2400, 9);
    expect(grid.origin[1]).toBeCloseTo(36.732916666666668 - 1 / 2400, 9);
    expect(grid.step[1]).toBeCloseTo(-1 / 1200, 12);
    const sum = grid.heights.reduce((a, b) => a + b, 0);
    expect(sum / grid.heights.length).toBeCloseTo(531.0311688499, 6);
    const sorted = grid.heights.toSorted();
    expect([sorted[0], sorted.at(-1)]).toEqual([236, 1076]);
  });

  it("places a model in UTM where GDAL places it", async () => {
    const grid = await readModel("bigtujunga-crop-srtm30m-epsg32611");
    const placement = placeGrid(grid);
    // gdalinfo: Upper Left 118d12'29.12"W, 34d21'58.19"N; Lower Right 118d 7'32.41"W, 34d18' 7.28"N (outer corners).
    const dms = (d: number, m: number, s: number): number => d + m / 60 + s / 3600;
    for (const [column, row, lon, lat] of [
      [-0.5, -0.5, -dms(118, 12, 29.12), dms(34, 21, 58.19)],
      [249.5, 239.5, -dms(118, 7, 32.41), dms(34, 18, 7.28)],
    ] as const) {
      const at = placement.toLonLat(column, row);
      expect(Math.abs(at[0] - lon) * 3600).toBeLessThan(0.006);
      expect(Math.abs(at[1] - lat) * 3600).toBeLessThan(0.006);
      const back = placement.toGrid([at[0], at[1]]);
      expect(back[0]).toBeCloseTo(column, 6);
      expect(back[1]).toBeCloseTo(row, 6);
    }
  });

  it("tells pixels that are areas from pixels that are points", async () => {
    // OGC 19-008r4 §7.1.2: an area's tie point is its outer corner, a point's its centre.
    expect((await readElevation(geotiff(degrees), "model.tif")).origin).toEqual([10.125, 45.75]);
    const point = { ...degrees, GTRasterTypeGeoKey: 2 };
    expect((await readElevation(geotiff(point), "model.tif")).origin).toEqual([10, 46]);
  });

  it("takes nodata for no height, also where a float32 cannot hold it exactly", async () => {
    const low = geotiff({ ...degrees, GDAL_NODATA: "-9999" }, Float32Array.of(1, -9999, 3, 4, 5, 6));
    expect([...(await readElevation(low, "model.tif")).heights]).toEqual([1, Number.NaN, 3, 4, 5, 6]);
    const odd = geotiff(
      { ...degrees, GDAL_NODATA: "-3.4028234663852886e+38" },
      Float32Array.of(1, -3.4028234663852886e38, 3, 4, 5, 6),
    );
    expect((await readElevation(odd, "model.tif")).heights[1]).toBeNaN();
  });

  it("brings feet to metres when the file says that its heights are in feet", async () => {
    const feet = geotiff({ ...degrees, VerticalUnitsGeoKey: 9002 });
    expect((await readElevation(feet, "model.tif")).heights[0]).toBeCloseTo(0.3048, 6);
  });

  it("says what is missing when the file does not say where it is", async () => {
    const { GeographicTypeGeoKey: _, GTModelTypeGeoKey: __, ...bare } = degrees;
    const fault = await faultOf(geotiff({ ...bare, GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 32767 }));
    expect(fault).toMatchObject({ code: "no-crs", where: "model.tif" });
    expect(fault.remedy).toContain("gdal_edit.py -a_srs");
    const unknown = await faultOf(geotiff({ ...bare, GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 27700 }));
    expect(unknown.code).toBe("no-crs");
    expect(unknown.what).toContain("EPSG:27700");
  });

  it("takes the system a person names", async () => {
    const utm = { ...degrees, ModelTiepoint: [0, 0, 0, 400000, 5000000, 0], ModelPixelScale: [30, 30, 0] };
    expect((await readElevation(geotiff(utm), "model.tif", "EPSG:32633")).crs.proj).toContain("+zone=33");
    expect((await faultOf(geotiff(utm), "EPSG:1")).code).toBe("no-crs");
    expect((await faultOf(geotiff(utm), "+proj=nothing")).code).toBe("no-crs");
  });

  it("refuses what is cut off, empty, or no GeoTIFF", async () => {
    const whole = fixtureBytes("jacksboro-srtm3-epsg4326.tif");
    for (const length of [0, 7, 100, 5_000, 70_000, whole.byteLength - 1])
      expect((await faultOf(whole.slice(0, length))).code, `${length} bytes`).toBe("bad-elevation");
    expect((await faultOf(new TextEncoder().encode("ncols 4\nnrows 4\n").buffer)).code).toBe("bad-elevation");
    const noise = Uint8Array.from({ length: 4000 }, (_, i) => (i * 2654435761) >>> 13);
    noise.set([0x49, 0x49, 42, 0, 8, 0, 0, 0]);
    expect((await faultOf(noise.buffer)).code).toBe("bad-elevation");
    expect(
      (await faultOf(geotiff({ ...degrees, GDAL_NODATA: "1" }, Float32Array.of(1, 1, 1, 1, 1, 1)))).code,
    ).toBe("bad-elevation");
    // Heights that no ground has: an undeclared sentinel.
    expect((await faultOf(geotiff(degrees, Float32Array.of(1, 2, -32768, 4, 5, 6)))).remedy).toContain(
      "nodata",
    );
  });
});
