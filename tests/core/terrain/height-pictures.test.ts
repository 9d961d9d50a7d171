/** Terrain tiles as GDAL wrote them, against what GDAL reads back: tests/fixtures/map/README.md. */
import { encode } from "fast-png";
import { readFileSync } from "node:fs";
import { deflateSync, gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { tileBbox } from "../../../core/map/tile-grid.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { encodingThatFits } from "../../../core/terrain/height-encoding.ts";
import { decodePicture, type GroundDecoders } from "../../../core/terrain/height-pictures.ts";
import { openTerrain } from "../../../core/terrain/terrain-tiles.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { GROUND_DECODERS } from "../../../electron/services/ground-decoders.ts";

const fixture = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/map/${name}`, import.meta.url)));
const reference = JSON.parse(new TextDecoder().decode(fixture("pictures.json"))) as {
  readonly tile: readonly [number, number, number];
  readonly side: number;
  readonly pixels: readonly Readonly<
    Record<"column" | "row" | "warped" | "terrarium" | "mapbox" | "mapboxPng", number>
  >[];
};
const [Z, X, Y] = reference.tile;

/** Centre of a pixel by OGC 17-083r4 annex D.1. */
function centre(column: number, row: number): LonLat {
  const n = 2 ** Z;
  const [x, y] = [X + (column + 0.5) / reference.side, Y + (row + 0.5) / reference.side];
  return [(x / n) * 360 - 180, (Math.atan(Math.sinh(Math.PI * (1 - (2 * y) / n))) * 180) / Math.PI];
}

async function open(
  picture: Uint8Array,
  type: "png" | "webp",
  metadata: object = {},
  decoders: GroundDecoders = GROUND_DECODERS,
): ReturnType<typeof openTerrain> {
  const writer = pmtilesWriter(type);
  writer.add(Z, X, Y, picture);
  const bounds = tileBbox({ z: Z, x: X, y: Y });
  const bytes = Buffer.concat(writer.finish({ bounds, metadata: { ...metadata } }).pieces);
  const model = await openTerrain(bytesSource("a.terrain.pmtiles", bytes), decoders);
  await model.prepare(bounds);
  return model;
}
const faultOf = async (work: Promise<unknown>): Promise<Fault> => {
  const thrown: unknown = await work.catch((e: unknown) => e);
  expect(thrown).toBeInstanceOf(Fault);
  return thrown as Fault;
};

describe("heights of real ground", () => {
  it.for([
    ["terrarium.webp", "webp", "terrarium", 1 / 512],
    ["mapbox.webp", "webp", "mapbox", 0.05],
    ["mapbox.png", "png", "mapboxPng", 0.05],
  ] as const)("of %s are GDAL's to the last bit", async ([file, type, column, rounding]) => {
    // Said in the metadata or told by the picture itself.
    for (const metadata of [{ encoding: column === "terrarium" ? "terrarium" : "mapbox" }, {}]) {
      const model = await open(fixture(file), type, metadata);
      for (const pixel of reference.pixels) {
        const height = model.at(centre(pixel.column, pixel.row));
        expect(height).toBeCloseTo(pixel[column], 4);
        expect(Math.abs(height - pixel.warped)).toBeLessThanOrEqual(rounding + 1e-4);
      }
    }
  });

  it("are absent where the picture is transparent, and right beside it", async () => {
    const model = await open(fixture("voids.webp"), "webp");
    expect(model.at(centre(110, 110))).toBeNaN();
    expect(model.at(centre(99.5, 110))).toBeNaN();
    const beside = reference.pixels.filter(({ column, row }) => column < 99 || row < 99);
    expect(beside.length).toBeGreaterThan(40);
    for (const { column, row, terrarium } of beside)
      expect(model.at(centre(column, row))).toBeCloseTo(terrarium, 4);
  });

  it("written with a palette are read", async () => {
    // Two colours of the specification's formula: 512.5 m and 513 m.
    const data = Uint8Array.from({ length: 16 * 16 }, (_, i) => i & 1);
    const pixels = await decodePicture(
      palettePng(
        16,
        [
          [130, 0, 128],
          [130, 1, 0],
        ],
        data,
      ),
      {},
    );
    expect(Array.from(pixels.data).slice(0, 6)).toEqual([130, 0, 128, 130, 1, 0]);
  });
});

describe("a picture that gives no heights", () => {
  it("is refused when it was packed with loss", async () => {
    const fault = await faultOf(open(fixture("lossy.webp"), "webp"));
    expect(fault.code).toBe("bad-archive");
    expect(fault.what).toContain("lossy");
  });
  it("is refused where nothing decodes WebP", async () => {
    expect((await faultOf(open(fixture("terrarium.webp"), "webp", {}, {}))).what).toContain("WebP");
  });
  it("is refused when its colours fit neither encoding", async () => {
    const data = Uint8Array.from({ length: 32 * 32 * 3 }, () => 255);
    const white = encode({ width: 32, height: 32, data, channels: 3, depth: 8 });
    expect((await faultOf(open(white, "png"))).what).toContain("no heights");
    // Declared, it is taken at its word, and still no height on earth comes of it.
    expect((await open(white, "png", { encoding: "terrarium" })).at(centre(64, 64))).toBeNaN();
  });
  it("is refused before anything is made room for when it claims to be huge", async () => {
    const png = encode({ width: 8, height: 8, data: new Uint8Array(192), channels: 3, depth: 8 });
    new DataView(png.buffer, png.byteOffset).setUint32(16, 60_000);
    expect((await faultOf(decodePicture(png, {}))).what).toContain("60000");
    const webp = fixture("terrarium.webp");
    webp.set([0xff, 0xff, 0xff, 0x0f], 21);
    expect((await faultOf(decodePicture(webp, GROUND_DECODERS))).what).toContain("16384");
  });
  it.for([7, 30, 200, 4000])("cut after %i bytes is damaged", async (length) => {
    for (const name of ["terrarium.webp", "mapbox.png"])
      expect((await faultOf(decodePicture(fixture(name).subarray(0, length), GROUND_DECODERS))).code).toBe(
        "bad-tile",
      );
  });
});

it("an encoding is told by the heights it gives", async () => {
  const of = async (name: string): Promise<string | null> =>
    encodingThatFits(await decodePicture(fixture(name), GROUND_DECODERS));
  expect(await of("terrarium.webp")).toBe("terrarium");
  expect(await of("mapbox.webp")).toBe("mapbox");
  expect(encodingThatFits({ width: 1, height: 1, channels: 3, data: [0, 0, 0] })).toBeNull();
});

/** A PNG with a palette, as its specification (ISO/IEC 15948, §11) has it: Node's zlib packs, and gives the check values. */
function palettePng(side: number, palette: readonly (readonly number[])[], indexes: Uint8Array): Uint8Array {
  const chunk = (type: string, data: Uint8Array): Buffer => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    // The check value of a gzip member is PNG's CRC-32 as well (RFC 1952 §8).
    check.writeUInt32BE(gzipSync(body).readUInt32LE(gzipSync(body).length - 8));
    return Buffer.concat([length, body, check]);
  };
  const size = Buffer.alloc(13);
  size.writeUInt32BE(side, 0);
  size.writeUInt32BE(side, 4);
  size.set([8, 3, 0, 0, 0], 8);
  const rows = Array.from({ length: side }, (_, row) => [
    0,
    ...indexes.subarray(row * side, (row + 1) * side),
  ]);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", size),
    chunk("PLTE", Uint8Array.from(palette.flat())),
    chunk("IDAT", deflateSync(Uint8Array.from(rows.flat()))),
    chunk("IEND", new Uint8Array(0)),
  ]);
}
