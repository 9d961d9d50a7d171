/** Broken and hostile models: one Fault each that names the file, in bounded memory and time. No source: hostile input by its nature. */
import { readFileSync } from "node:fs";
import { zlibSync } from "fflate";
import { writeArrayBuffer } from "geotiff";
import { describe, expect, it } from "vitest";
import { Fault, type FaultRecord } from "../../../../core/fault.ts";
import { type ElevationFile, memoryFile } from "../../../../core/mapmaking/elevation/elevation-model.ts";
import { readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { decodeBlock } from "../../../../core/mapmaking/elevation/tiff-decode.ts";
import { epsgRegister } from "../../../../electron/services/epsg-register.ts";

const folder = new URL("../../../fixtures/elevation/kinds/", import.meta.url);
const bytesOf = (name: string): Uint8Array<ArrayBuffer> =>
  Uint8Array.from(readFileSync(new URL(name, folder)));
const KINDS = [
  "int16-lzw-tiles.tif",
  "float32-deflate-p3.tif",
  "int32-big-endian.tif",
  "float64-bigtiff.tif",
];

async function faultOf(file: ElevationFile, crs?: string): Promise<FaultRecord> {
  try {
    await readModels([file], { crs, epsg: epsgRegister });
  } catch (thrown) {
    if (!(thrown instanceof Fault)) throw thrown;
    return thrown.toRecord();
  }
  throw new Error("no fault");
}

/** A TIFF file of our own making: 12-byte entries of tag, type, count and value, then whatever follows. */
function tiff(
  entries: readonly (readonly [tag: number, type: number, count: number, value: number])[],
  tail = new Uint8Array(0),
): Uint8Array {
  const view = new DataView(new ArrayBuffer(8 + 2 + entries.length * 12 + 4 + tail.length));
  view.setUint16(0, 0x4949);
  view.setUint16(2, 42, true);
  view.setUint32(4, 8, true);
  view.setUint16(8, entries.length, true);
  for (const [i, [tag, type, count, value]] of entries.entries()) {
    view.setUint16(10 + 12 * i, tag, true);
    view.setUint16(12 + 12 * i, type, true);
    view.setUint32(14 + 12 * i, count, true);
    view.setUint32(18 + 12 * i, value, true);
  }
  const bytes = new Uint8Array(view.buffer);
  bytes.set(tail, bytes.length - tail.length);
  return bytes;
}

describe("a broken GeoTIFF", () => {
  it("cut off anywhere gives one fault that names it", async () => {
    for (const kind of KINDS) {
      const whole = bytesOf(kind);
      for (let length = 0; length < whole.length; length += 97) {
        const fault = await faultOf(memoryFile(kind, whole.slice(0, length)));
        expect(["bad-elevation", "no-crs"], `${kind}, ${length} bytes`).toContain(fault.code);
        expect(fault.where).toBe(kind);
      }
    }
  });

  it("with bytes changed gives a fault or a model, never more", async () => {
    let seed = 7;
    const random = (below: number): number => (seed = (seed * 1103515245 + 12345) % 2 ** 31) % below;
    let [faults, models] = [0, 0];
    for (const kind of KINDS)
      for (let round = 0; round < 150; round++) {
        const bytes = bytesOf(kind);
        for (let k = 0; k <= round % 3; k++) bytes[random(bytes.length)] = random(256);
        try {
          await readModels([memoryFile(kind, bytes)], { epsg: epsgRegister });
          models++;
        } catch (thrown) {
          expect(thrown, `${kind} ${round}: ${String(thrown)}`).toBeInstanceOf(Fault);
          expect((thrown as Fault).code).not.toBe("internal");
          faults++;
        }
      }
    expect(faults).toBeGreaterThan(150);
    expect(models).toBeGreaterThan(20);
  }, 60_000);

  it("whose header claims what cannot be is refused before anything is reserved for it", async () => {
    const base = (columns: number, rows: number): (readonly [number, number, number, number])[] => [
      [256, 4, 1, columns],
      [257, 4, 1, rows],
      [258, 3, 1, 16],
      [259, 3, 1, 1],
      [262, 3, 1, 1],
      [273, 4, 1, 8],
      [277, 3, 1, 1],
      [278, 4, 1, rows],
      [279, 4, 1, 12],
    ];
    for (const [columns, rows] of [
      [100_000, 100_000],
      [19_000, 19_000],
      [4_000_000_000, 1],
      [0, 0],
    ] as const) {
      const fault = await faultOf(memoryFile("claims.tif", tiff(base(columns, rows))));
      expect(fault, `${columns}`).toMatchObject({ code: "bad-elevation", where: "claims.tif" });
    }
    const lists = base(100, 100).map((entry) =>
      entry[0] === 273 ? ([273, 4, 1_000_000_000, 8] as const) : entry,
    );
    expect((await faultOf(memoryFile("claims.tif", tiff(lists)))).what).toContain("tag 273");
    // A thousand million entries in the directory of a BigTIFF.
    const big = bytesOf("float64-bigtiff.tif");
    const view = new DataView(big.buffer);
    view.setBigUint64(Number(view.getBigUint64(8, true)), 1_000_000_000n, true);
    expect((await faultOf(memoryFile("big.tif", big))).what).toContain("1000000000 entries");
  });

  // Numbers of compressions as libtiff has them: LZMA, Zstandard, WebP, JPEG.
  it.each([34925, 50000, 50001, 7])("packed by method %i is refused by its number", async (method) => {
    const bytes = bytesOf("int16-lzw-tiles.tif");
    const view = new DataView(bytes.buffer);
    const little = view.getUint16(0) === 0x4949;
    const list = view.getUint32(4, little);
    for (let k = 0; k < view.getUint16(list, little); k++) {
      const entry = list + 2 + 12 * k;
      if (view.getUint16(entry, little) === 259) view.setUint16(entry + 8, method, little);
    }
    const fault = await faultOf(memoryFile("packed.tif", bytes));
    expect(fault).toMatchObject({ code: "bad-elevation", where: "packed.tif" });
    expect(fault.what).toContain(`method ${method}`);
  });

  it("whose strips are bombs stops at their size", () => {
    const format = {
      compression: "deflate",
      predictor: 1,
      kind: "int",
      bytes: 2,
      littleEndian: true,
    } as const;
    const bomb = zlibSync(new Uint8Array(2 ** 24), { level: 9 });
    expect(bomb.length).toBeLessThan(20_000);
    expect(() => decodeBlock(bomb, format, 10, 10)).toThrow("more than it is to hold");
    // LZW: codes that double what came before, 12 bits each, without an end.
    const lzw = new Uint8Array(100_000).fill(0xff);
    lzw.set([0x80, 0x00]);
    const start = performance.now();
    try {
      decodeBlock(lzw, { ...format, compression: "lzw" }, 100, 100);
    } catch (thrown) {
      expect(String(thrown)).toContain("make no sense");
    }
    expect(performance.now() - start).toBeLessThan(2000);
  });

  it("whose packed heights are damaged is not taken for another ground", async () => {
    const bytes = bytesOf("float32-deflate-p3.tif");
    const view = new DataView(bytes.buffer);
    const directory = view.getUint32(4, true);
    const entries = Array.from({ length: view.getUint16(directory, true) }, (_, i) => directory + 2 + 12 * i);
    const at = (tag: number): number =>
      view.getUint32(entries.find((e) => view.getUint16(e, true) === tag)! + 8, true);
    const strip = at(273);
    bytes[strip + Math.floor(at(279) / 2)]! ^= 0x10;
    const fault = await faultOf(memoryFile("damaged.tif", bytes));
    expect(fault.what).toMatch(/strip 0 is damaged/);
  });
});

describe("a model whose place makes no sense", () => {
  const geotiff = (keys: Record<string, unknown>): ElevationFile =>
    memoryFile(
      "model.tif",
      new Uint8Array(
        writeArrayBuffer(Float32Array.of(1, 2, 3, 4, 5, 6), {
          width: 3,
          height: 2,
          GTRasterTypeGeoKey: 1,
          ...keys,
        }),
      ),
    );
  const degrees = { GTModelTypeGeoKey: 2, GeographicTypeGeoKey: 4326 };
  const at = (x: number, y: number, size: number): Record<string, unknown> => ({
    ModelTiepoint: [0, 0, 0, x, y, 0],
    ModelPixelScale: [size, size, 0],
  });

  it("because latitude and longitude are exchanged says so", async () => {
    const fault = await faultOf(geotiff({ ...degrees, ...at(37.8, -122.4, 0.001) }));
    expect(fault).toMatchObject({ code: "bad-elevation", where: "model.tif" });
    expect(fault.what).toContain("exchanged");
    // A national grid whose northings stand first: EPSG:5070 at 40° N, 105° W lies at −763,000 east, 1,911,000 north.
    const albers = { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 2193 };
    // New Zealand: 5,200,000 north, 1,560,000 east.
    expect((await faultOf(geotiff({ ...albers, ...at(5_200_000, 1_560_000, 10) }))).what).toContain(
      "exchanged",
    );
  });

  it("because its numbers are of another system says so", async () => {
    expect((await faultOf(geotiff({ ...degrees, ...at(395_000, 3_800_000, 30) }))).what).toContain(
      "no degrees",
    );
    const utm = { GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 32611 };
    expect((await faultOf(geotiff({ ...utm, ...at(-118.2, 34.3, 0.0003) }))).what).toContain(
      "look like degrees",
    );
    // UTM coordinates with the system of Great Britain, as from a .prj file of another sheet.
    const fault = await faultOf(geotiff({ ...utm, ...at(2_600_000, 1_200_000, 30) }), "EPSG:27700");
    expect(fault.what).toContain("far from where");
    expect(fault.remedy).toContain("PROJ definition");
  });

  it("because it is not a number says so", async () => {
    for (const keys of [
      at(Number.NaN, 46, 0.1),
      at(10, Number.NaN, 0.1),
      at(10, 46, Number.NaN),
      at(10, 46, 0),
      at(Infinity, 46, 1),
    ])
      expect((await faultOf(geotiff({ ...degrees, ...keys }))).code).toBe("bad-elevation");
  });

  it("but counts longitude from 0 to 360 is brought back", async () => {
    const { grid } = await readModels([geotiff({ ...degrees, ...at(237.5, 38, 0.001) })]);
    expect(grid.origin[0]).toBeCloseTo(-122.4995, 9);
  });
});

describe("a broken ASCII grid", () => {
  const text = (body: string, prj: string | null = "EPSG:32611"): ElevationFile =>
    memoryFile("grid.asc", new TextEncoder().encode(body), prj);
  const head = "ncols 3\nnrows 2\nxllcorner 395000\nyllcorner 3800000\ncellsize 30\nNODATA_value -9999\n";
  it("is read when it is whole, however its lines are broken", async () => {
    const { grid } = await readModels([text(`${head}1 2\n3 4 -9999\n6\n`)]);
    expect([...grid.heights]).toEqual([1, 2, 3, 4, Number.NaN, 6]);
    expect(grid.origin).toEqual([395015, 3800045]);
    const upper = head.replace("ncols", "NCOLS").replace("cellsize 30", "dx 30\r\ndy 20");
    expect((await readModels([text(`${upper}1 2 3\r\n4 5 6`)])).grid.step).toEqual([30, -20]);
  });
  it("names the line where it goes wrong", async () => {
    expect((await faultOf(text(`${head}1 2 3\n4 five 6\n`))).where).toBe("grid.asc, line 8");
    const comma = await faultOf(text(`${head}1 2 3\n4 5,5 6\n`));
    expect(comma.remedy).toContain("point");
    expect((await faultOf(text(`${head}1 2 3\n4 500000000\n`))).what).toContain("after 5 of 6");
    expect((await faultOf(text(`${head}1 2 3\n4 5 6 7\n`))).what).toContain("more heights");
    expect((await faultOf(text(head.replace("ncols 3", "ncols three")))).where).toBe("grid.asc, line 1");
    expect((await faultOf(text(head.replace("cellsize 30\n", "") + "1 2 3 4 5 6 7 8"))).what).toContain(
      "cellsize",
    );
  });
  it("that claims more than it holds is refused before anything is reserved", async () => {
    const fault = await faultOf(
      text(`${head.replace("ncols 3", "ncols 19000").replace("nrows 2", "nrows 19000")}1 2 3\n`),
    );
    expect(fault.what).toContain("cut off");
  });
  it("without a system, or with one that is none, says so", async () => {
    expect((await faultOf(text(`${head}1 2 3 4 5 6`, null))).remedy).toContain("--crs");
    expect((await faultOf(text(`${head}1 2 3 4 5 6`, "Projection UTM"))).where).toBe("grid.prj");
  });
});
