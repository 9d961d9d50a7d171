/** Every way gdal_translate stores heights, read back and compared with GDAL's own reading, sample by sample. */
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { placeGrid } from "../../../../core/mapmaking/elevation/grid-placement.ts";
import { openModel, readModels } from "../../../../core/mapmaking/elevation/read-elevation.ts";
import { epsgRegister } from "../../../../electron/services/epsg-register.ts";
import { compare, fileAt, missingTools, run, scratch, skipNote, valuesOf } from "./support/gdal.ts";

const model = fileURLToPath(
  new URL("../../../fixtures/elevation/jacksboro-srtm3-epsg4326.tif", import.meta.url),
);

const TYPES = ["Byte", "Int16", "UInt16", "Int32", "UInt32", "Float32", "Float64"] as const;
const PACKED = ["NONE", "LZW", "DEFLATE", "PACKBITS"] as const;
const LAYOUTS = { strips: [], tiles: ["TILED=YES", "BLOCKXSIZE=48", "BLOCKYSIZE=32"] } as const;

describe.skipIf(missingTools.length > 0)(`heights as gdal_translate stores them${skipNote}`, () => {
  const { path, remove } = scratch();
  afterAll(remove);
  // Fractions for the types that hold them; heights of 0 to 250 for the one that holds no more.
  const scales: Readonly<Record<string, readonly string[]>> = {
    Byte: ["200", "1100", "0", "250"],
    Float32: ["0", "1000", "0", "1237.7"],
    Float64: ["0", "1000", "0", "1237.7"],
  };
  const made = new Map<string, { readonly source: string; readonly values: Float32Array }>();
  const sourceOf = (type: string): { readonly source: string; readonly values: Float32Array } => {
    const source = path(`${type}.tif`);
    const scale = scales[type] ?? ["0", "1000", "0", "1000"];
    const known = made.get(type);
    if (known) return known;
    run("gdal_translate", [
      "-q",
      "-srcwin",
      "90",
      "70",
      "131",
      "77",
      "-scale",
      ...scale,
      "-ot",
      type,
      model,
      source,
    ]);
    const now = { source, values: Float32Array.from(valuesOf(source)) };
    made.set(type, now);
    return now;
  };
  for (const [layout, tiles] of Object.entries(LAYOUTS))
    for (const packed of PACKED)
      it(`${packed} in ${layout}, every type and predictor, both orders of bytes`, async () => {
        for (const type of TYPES) {
          const { source, values } = sourceOf(type);
          const float = type.startsWith("Float");
          const plain = packed === "NONE" || packed === "PACKBITS";
          for (const predictor of plain ? [1] : float ? [1, 2, 3] : [1, 2])
            for (const order of type === "Int16" || type === "Float32" ? ["LITTLE", "BIG"] : ["LITTLE"]) {
              if (type === "Float64" && predictor === 2) continue;
              // GDAL 3.6.2 writes this one so that itself reads 5e17 m from it.
              if (order === "BIG" && predictor === 3) continue;
              const name = `${type}-${packed}-${layout}-${predictor}-${order}`;
              const predict = predictor === 1 ? [] : [`PREDICTOR=${predictor}`];
              const options = [`COMPRESS=${packed}`, `ENDIANNESS=${order}`, ...predict, ...tiles];
              const file = path(`${name}.tif`);
              run("gdal_translate", ["-q", "-ot", type, ...options.flatMap((o) => ["-co", o]), source, file]);
              const { grid } = await readModels([fileAt(file)]);
              const { most, unlike } = compare(grid.heights, values, Number.NaN);
              expect({ name, most, unlike }).toEqual({ name, most: 0, unlike: 0 });
            }
        }
      }, 60_000);

  it("BigTIFF, cloud-optimised, sparse, scaled and with a nodata value", async () => {
    const cases: readonly (readonly [string, readonly string[]])[] = [
      ["big", ["-co", "BIGTIFF=YES", "-co", "COMPRESS=DEFLATE"]],
      ["cog", ["-of", "COG", "-co", "BLOCKSIZE=128", "-co", "COMPRESS=LZW", "-co", "PREDICTOR=YES"]],
      ["nodata", ["-a_nodata", "421"]],
      // The lower row of these tiles has 88 of its 256 rows to spare.
      ["large-tiles", ["-ot", "Float32", "-co", "TILED=YES", "-co", "COMPRESS=DEFLATE"]],
      ["one-row-left", ["-co", "TILED=YES", "-co", "COMPRESS=DEFLATE", "-srcwin", "0", "0", "403", "257"]],
      ["strip-of-all", ["-co", "BLOCKYSIZE=344", "-co", "COMPRESS=DEFLATE"]],
    ];
    for (const [name, args] of cases) {
      const out = path(`${name}.tif`);
      run("gdal_translate", ["-q", ...args, model, out]);
      const { grid } = await readModels([fileAt(out)]);
      const { most, unlike } = compare(grid.heights, valuesOf(out), name === "nodata" ? 421 : Number.NaN);
      expect({ name, most, unlike }).toEqual({ name, most: 0, unlike: 0 });
      expect(grid.heights.length).toBe(403 * (name === "one-row-left" ? 257 : 344));
    }
    const scaled = path("scaled.tif");
    run("gdal_translate", ["-q", "-a_scale", "0.1", "-a_offset", "5", model, scaled]);
    const { grid } = await readModels([fileAt(scaled)]);
    const raw = valuesOf(scaled);
    expect(
      compare(
        grid.heights,
        raw.map((v) => v * 0.1 + 5),
        Number.NaN,
      ).most,
    ).toBeLessThan(1e-4);
    // Blocks left out of the file are void: an empty border around the model, as gdalwarp -te makes it.
    const sparse = path("sparse.tif");
    run("gdalwarp", [
      "-q",
      "-te",
      "-84.6",
      "36.3",
      "-84",
      "36.9",
      "-tr",
      String(1 / 1200),
      String(1 / 1200),
      "-dstnodata",
      "-9999",
      "-co",
      "SPARSE_OK=TRUE",
      "-co",
      "TILED=YES",
      "-co",
      "BLOCKXSIZE=64",
      "-co",
      "BLOCKYSIZE=64",
      "-co",
      "COMPRESS=DEFLATE",
      model,
      sparse,
    ]);
    const holes = await readModels([fileAt(sparse)]);
    expect(compare(holes.grid.heights, valuesOf(sparse), -9999)).toEqual({ most: 0, unlike: 0 });
  });

  it("ASCII grids, and parts of a file alone", async () => {
    const asc = path("model.asc");
    run("gdal_translate", ["-q", "-of", "AAIGrid", "-a_nodata", "-9999", model, asc]);
    const { grid } = await readModels([
      fileAt(asc, run("gdalsrsinfo", ["--single-line", "-o", "wkt_esri", model])),
    ]);
    expect(compare(grid.heights, valuesOf(model), Number.NaN)).toEqual({ most: 0, unlike: 0 });
    expect(grid.origin[0]).toBeCloseTo(-84.41375 + 1 / 2400, 8);
    expect(grid.origin[1]).toBeCloseTo(36.732916666666668 - 1 / 2400, 8);
    const tiled = path("tiled.tif");
    run("gdal_translate", [
      "-q",
      "-co",
      "TILED=YES",
      "-co",
      "BLOCKXSIZE=64",
      "-co",
      "BLOCKYSIZE=64",
      model,
      tiled,
    ]);
    const window = { column: 37, row: 120, columns: 141, rows: 67 };
    const part = path("part.tif");
    run("gdal_translate", ["-q", "-srcwin", "37", "120", "141", "67", model, part]);
    for (const file of [fileAt(tiled), fileAt(asc, "EPSG:4326"), fileAt(model)]) {
      const opened = await openModel(file, {});
      expect(compare(await opened.heights(window), valuesOf(part), Number.NaN)).toEqual({
        most: 0,
        unlike: 0,
      });
    }
  });

  it("rows from the south, and pixels that are points", async () => {
    const south = path("south.tif");
    // The same ground with its rows the other way round: corners given from the south.
    run("gdal_translate", [
      "-q",
      "-a_ullr",
      "-84.41375",
      "36.44625",
      "-84.077916666666667",
      "36.732916666666668",
      model,
      south,
    ]);
    const { grid } = await readModels([fileAt(south)]);
    const theirs = valuesOf(model);
    const flipped = Array.from(
      { length: theirs.length },
      (_, i) => theirs[(343 - Math.floor(i / 403)) * 403 + (i % 403)]!,
    );
    expect(compare(grid.heights, flipped, Number.NaN)).toEqual({ most: 0, unlike: 0 });
    expect(grid.origin[1]).toBeCloseTo(36.732916666666668 - 1 / 2400, 9);
    const point = path("point.tif");
    run("gdal_translate", ["-q", "-mo", "AREA_OR_POINT=Point", model, point]);
    const read = await readModels([fileAt(point)]);
    // gdalinfo of both gives the same corners: GDAL's outer edge of a point is half a pixel off the point.
    expect(read.grid.origin[0]).toBeCloseTo(-84.41375 + 1 / 2400, 9);
    expect(read.grid.origin[1]).toBeCloseTo(36.732916666666668 - 1 / 2400, 9);
  });

  it("systems its keys describe without a code", async () => {
    const systems = [
      "+proj=lcc +lat_1=36 +lat_2=37.5 +lat_0=35 +lon_0=-84 +x_0=500000 +y_0=100000 +ellps=GRS80 +units=m",
      "+proj=tmerc +lat_0=30 +lon_0=-84.2 +k=0.9999 +x_0=200000 +y_0=0 +datum=WGS84 +units=us-ft",
      "+proj=aea +lat_1=29.5 +lat_2=45.5 +lat_0=23 +lon_0=-96 +x_0=0 +y_0=0 +datum=NAD83 +units=m",
      "+proj=laea +lat_0=36 +lon_0=-84 +x_0=1000 +y_0=2000 +datum=WGS84 +units=m",
    ];
    for (const [i, system] of systems.entries()) {
      const out = path(`system-${i}.tif`);
      run("gdalwarp", ["-q", "-overwrite", "-t_srs", system, "-dstnodata", "-9999", model, out]);
      const opened = await openModel(fileAt(out), { epsg: epsgRegister });
      const [x, y] = [opened.origin[0] + 100 * opened.step[0], opened.origin[1] + 100 * opened.step[1]];
      const [lon, lat] = run(
        "gdaltransform",
        ["-s_srs", system, "-t_srs", "EPSG:4326", "-output_xy"],
        `${x} ${y}\n`,
      )
        .split(" ")
        .map(Number);
      const at = placeGrid({ ...opened, heights: new Float32Array(0) }).toLonLat(100, 100);
      // 1e-6° is 0.1 m.
      expect(Math.abs(at[0] - lon!), system).toBeLessThan(1e-6);
      expect(Math.abs(at[1] - lat!), system).toBeLessThan(1e-6);
    }
  });
});
