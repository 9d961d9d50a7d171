import { describe, expect, it } from "vitest";
import { decode } from "fast-png";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { placeGrid } from "../../../core/mapmaking/elevation/grid-placement.ts";
import { joinPieces, pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { encodePng } from "../../../core/mapmaking/png-rgb.ts";
import { plainCodecs } from "../../../core/mapmaking/codecs.ts";
import { gridSource } from "../../../core/mapmaking/height-source.ts";
import {
  terrainAbove,
  terrainBlock,
  terrainPixels,
  terrainRange,
} from "../../../core/mapmaking/terrain-tiles-writer.ts";
import { packTiles } from "../../../core/mapmaking/tile-pack.ts";
import { terrainPlan } from "../../../core/mapmaking/terrain-zoom.ts";
import { openTerrain } from "../../../core/terrain/terrain-tiles.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type HeightValue, heightValues, MODELS, quietly, readModel } from "./elevation-fixture.ts";
import { openArchive, terrainReader } from "./read-back.ts";

async function terrainOf(grid: ElevationGrid, maxZoom: number, minZoom = maxZoom): Promise<Uint8Array> {
  const placement = placeGrid(grid);
  const writer = pmtilesWriter("png");
  // In blocks of two zooms, so that what goes over a block's edge is seen as well.
  const top = Math.max(minZoom, maxZoom - 1);
  const plan = { zoom: maxZoom, quantumM: 1 / 16 };
  const above = terrainAbove(placement, top, minZoom, plan.quantumM, plainCodecs, ({ zoom, x, y, bytes }) =>
    writer.add(zoom, x, y, bytes),
  );
  const { x0, y0, x1, y1 } = terrainRange(placement, top);
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1; x++) {
      const block = terrainBlock(gridSource(grid), placement, plan, { zoom: top, x, y }, plainCodecs);
      writer.addPack(packTiles(block.tiles));
      above.add(x, y, block.half);
    }
  return joinPieces(writer.finish({ bounds: placement.bounds, metadata: { encoding: "terrarium" } }).pieces);
}

const off = (values: readonly HeightValue[], at: (lon: number, lat: number) => number): number[] =>
  values.map(([lon, lat, heightM]) => Math.abs(at(lon, lat) - heightM)).sort((a, b) => a - b);

describe("terrain tiles", () => {
  it.each(MODELS)(
    "of a map of %s read within half a metre of GDAL's bilinear heights, everywhere",
    async (model) => {
      const { terrain, report } = await makeMap({
        elevation: await readModel(model),
        interval: { value: 100, unit: "m" },
        derive: { streams: false, ridges: false, spotHeights: false },
        about: { title: "Test", source: null, date: null, attribution: null, datum: null, invented: false },
      });
      expect(report.terrain.exact).toBe(true);
      const read = await openTerrain(bytesSource("terrain", terrain));
      await read.prepare(report.bounds);
      const values = heightValues(model);
      expect(values.length).toBeGreaterThan(400);
      // Rounded to 1/16 m; measured 0.16 m at most over whole models.
      expect(off(values, (lon, lat) => read.at([lon, lat])).at(-1)).toBeLessThan(0.2);
    },
  );

  it("read between pixels, as any other program reads them, come closer the finer they are", async () => {
    const grid = await readModel("bigtujunga-crop-srtm30m-epsg32611");
    const values = heightValues("bigtujunga-crop-srtm30m-epsg32611");
    // Pixels of 15.8, 7.9 and 3.9 m on a model of 30 m.
    const most: number[] = [];
    for (const [zoom, within] of [
      [12, 1.5],
      [13, 0.75],
      [14, 0.4],
    ] as const) {
      const all = off(values, await terrainReader(await terrainOf(grid, zoom)));
      expect(all[Math.floor(0.99 * all.length)]).toBeLessThan(within);
      most.push(all.at(-1)!);
    }
    expect(most).toEqual([...most].sort((a, b) => b - a));
  });

  it("are coarser, and read between pixels, where the ground is smooth", async () => {
    const smooth: ElevationGrid = {
      key: "smooth",
      columns: 200,
      rows: 200,
      heights: Float32Array.from(
        { length: 40_000 },
        (_, i) => 500 + 100 * Math.sin((i % 200) / 40) * Math.cos(Math.floor(i / 200) / 50),
      ),
      origin: [10, 45],
      step: [1 / 3600, -1 / 3600],
      crs: WGS84,
    };
    const placement = placeGrid(smooth);
    const plan = await terrainPlan(gridSource(smooth), placement, quietly);
    // 31 by 22 m a cell: pixels of 27 m do, where a cell's own surface would need pixels of 9.9 m.
    expect(plan).toMatchObject({ zoom: 11, exact: false });
    const at = await terrainReader(await terrainOf(smooth, plan.zoom));
    for (let k = 0; k < 200; k++) {
      const [c, r] = [2 + ((k * 37) % 195), 2 + ((k * 61) % 195)];
      expect(Math.abs(at(10 + c / 3600, 45 - r / 3600) - smooth.heights[r * 200 + c]!)).toBeLessThan(0.5);
    }
  });

  it("read alike by the program's own reader when they tell no grid", async () => {
    const grid = await readModel("bigtujunga-crop-srtm30m-epsg32611");
    const bytes = await terrainOf(grid, 12);
    const at = await terrainReader(bytes);
    const model = await openTerrain(bytesSource("terrain", bytes));
    const { bounds } = placeGrid(grid);
    await model.prepare(bounds);
    for (const [lon, lat] of heightValues("bigtujunga-crop-srtm30m-epsg32611"))
      expect(model.at([lon, lat])).toBeCloseTo(at(lon, lat), 3);
  });

  it("keep voids, and have none beyond half a cell outside the model", async () => {
    const n = 60;
    const grid: ElevationGrid = {
      key: "void",
      columns: n,
      rows: n,
      heights: Float32Array.from({ length: n * n }, (_, i) => {
        const [c, r] = [i % n, Math.floor(i / n)];
        return c >= 20 && c <= 25 && r >= 30 && r <= 32 ? Number.NaN : 100 + c;
      }),
      origin: [10, 45],
      step: [1 / 3600, -1 / 3600],
      crs: WGS84,
    };
    const at = await terrainReader(await terrainOf(grid, 13));
    const height = (c: number, r: number): number => at(10 + c / 3600, 45 - r / 3600);
    expect(height(22, 31)).toBeNaN();
    expect(height(19.5, 31)).toBeNaN(); // between a height and a void there is none
    expect(height(17, 31)).toBeCloseTo(117, 0);
    expect(height(22, 28)).toBeCloseTo(122, 0);
    expect(height(-1.5, 10)).toBeNaN();
    expect(height(10, n + 0.5)).toBeNaN();
    expect(height(0, 10)).toBeCloseTo(100, 0);
  });

  it("of lower zooms are means of the ones below", async () => {
    const grid = await readModel("bigtujunga-crop-srtm30m-epsg32611");
    const archive = openArchive(await terrainOf(grid, 12, 10));
    const header = await archive.getHeader();
    expect([header.minZoom, header.maxZoom]).toEqual([10, 12]);
    const [lon, lat] = [-118.1658, 34.3341];
    const x = ((lon + 180) / 360) * 2 ** 10;
    const y = ((1 - Math.log(Math.tan(Math.PI / 4 + (lat * Math.PI) / 360)) / Math.PI) / 2) * 2 ** 10;
    const tile = await archive.getZxy(10, Math.floor(x), Math.floor(y));
    const { data } = decode(new Uint8Array(tile!.data));
    const at = (Math.floor((y % 1) * 512) * 512 + Math.floor((x % 1) * 512)) * 3;
    const height = data[at]! * 256 + data[at + 1]! + data[at + 2]! / 256 - 32768;
    // A pixel of zoom 10 is 63 m here; the model's heights within 200 m of the place differ by less than this.
    const near = placeGrid(grid).toGrid([lon, lat]);
    const around = [-3, 0, 3].flatMap((dr) =>
      [-3, 0, 3].map(
        (dc) => grid.heights[Math.round(near[1] + dr) * grid.columns + Math.round(near[0] + dc)]!,
      ),
    );
    expect(height).toBeGreaterThan(Math.min(...around) - 5);
    expect(height).toBeLessThan(Math.max(...around) + 5);
  });
});

describe("a height as a colour", () => {
  it("is red · 256 + green + blue / 256 − 32768 metres, black for none", () => {
    // Terrarium encoding, MapLibre style specification, sources of type raster-dem.
    const pixels = terrainPixels(Float32Array.of(0, 1234.5, -11.25, Number.NaN, 8848.86), 1 / 8);
    expect([...pixels.subarray(0, 3)]).toEqual([128, 0, 0]);
    expect([...pixels.subarray(3, 6)]).toEqual([132, 210, 128]);
    expect([...pixels.subarray(6, 9)]).toEqual([127, 244, 192]);
    expect([...pixels.subarray(9, 12)]).toEqual([0, 0, 0]);
    const [r, g, b] = pixels.subarray(12);
    expect(Math.abs(r! * 256 + g! + b! / 256 - 32768 - 8848.86)).toBeLessThanOrEqual(1 / 16);
  });

  it("comes back from the PNG pixel by pixel", () => {
    const pixels = Uint8Array.from({ length: 37 * 21 * 3 }, (_, i) => Math.imul(i, 2654435761) >>> 11);
    const back = decode(encodePng(pixels, 37, 21));
    expect([back.width, back.height, back.channels, back.depth]).toEqual([37, 21, 3, 8]);
    expect(Uint8Array.from(back.data)).toEqual(pixels);
    // With checksums verified.
    expect(() => decode(encodePng(pixels, 37, 21), { checkCrc: true })).not.toThrow();
  });
});
