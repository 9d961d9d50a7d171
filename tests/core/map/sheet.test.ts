import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { isTileSize, pictureSize, pictureType } from "../../../core/map/pictures.ts";
import { openSheet, readInfo } from "../../../core/map/read-info.ts";
import type { ByteSource } from "../../../core/map/source.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";

const read = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/scanned-sheet/${name}`, import.meta.url)));
const WHITNEY = read("whitney.pmtiles");

const sourceOf = (bytes: Uint8Array): ByteSource => ({
  key: "sheet.pmtiles",
  read: async (offset, length) => bytes.slice(offset, offset + length),
});

function archiveOf(type: "webp" | "png" | "mvt", ...tiles: readonly Uint8Array[]): ByteSource {
  const writer = pmtilesWriter(type);
  tiles.forEach((tile, x) => writer.add(1, x, 0, tile));
  const { pieces } = writer.finish({ bounds: [-170, 1, 170, 80], metadata: {} });
  return sourceOf(Buffer.concat(pieces));
}

const faultOf = async (asked: Promise<unknown>): Promise<Fault> => {
  try {
    await asked;
  } catch (thrown) {
    return Fault.from(thrown);
  }
  throw new Error("No fault.");
};

// The pictures are GDAL's: make-pictures.sh asks it for 48 by 20 pixels.
describe("the size of a picture is told from its first bytes", () => {
  it.each([
    ["plain.png", "png"],
    ["plain.jpg", "jpeg"],
    ["progressive.jpg", "jpeg"],
    ["lossy.webp", "webp"],
    ["lossless.webp", "webp"],
    ["alpha.webp", "webp"],
  ])("%s", (name, type) => {
    const bytes = read(name);
    expect(pictureType(bytes)).toBe(type);
    expect(pictureSize(bytes)).toEqual({ width: 48, height: 20 });
  });

  it("nothing is told of what is cut short, and of other kinds of picture", () => {
    for (const name of ["plain.png", "plain.jpg", "lossy.webp", "lossless.webp", "alpha.webp"])
      expect(pictureSize(read(name).subarray(0, 18))).toBeNull();
    expect(pictureType(read("other.gif"))).toBeNull();
    expect(pictureSize(read("other.gif"))).toBeNull();
  });

  it("a tile is a square of at most 4096 pixels", () => {
    expect(isTileSize({ width: 256, height: 256 })).toBe(true);
    expect(isTileSize({ width: 4096, height: 4096 })).toBe(true);
    expect(isTileSize({ width: 4097, height: 4097 })).toBe(false);
    expect(isTileSize({ width: 256, height: 512 })).toBe(false);
    expect(isTileSize({ width: 0, height: 0 })).toBe(false);
  });
});

describe("a scanned sheet", () => {
  // What its own header and its first picture say, by the source's description: see tests/fixtures/scanned-sheet.
  it("opens with its bounds, zooms and the size of its tiles", async () => {
    const { info, tileSize } = await openSheet(sourceOf(WHITNEY));
    expect(tileSize).toBe(512);
    expect(info).toMatchObject({
      title: "Whitney sheet",
      pictures: "webp",
      minZoom: 12,
      maxZoom: 13,
      bounds: [-118.3, 36.56109, -118.26069, 36.59301],
      attribution: "United States Geological Survey",
    });
    expect(await readInfo(sourceOf(WHITNEY))).toEqual(info);
  });

  it.each([
    ["pictures that are no tiles", archiveOf("webp", read("lossy.webp")), /48 by 20 pixels/],
    ["pictures that cannot be read", archiveOf("webp", Uint8Array.of(1, 2, 3, 4)), /No picture/],
    ["vector tiles", archiveOf("mvt", Uint8Array.of(26, 0)), /vector tiles, not pictures/],
  ])("one of %s is refused in a sentence", async (_, source, what) => {
    const fault = await faultOf(openSheet(source));
    expect(fault.code).toBe("bad-archive");
    expect(fault.where).toBe("sheet.pmtiles");
    expect(fault.what).toMatch(what);
  });

  it("pictures of a kind that is not known are refused when the archive is looked at", async () => {
    const bytes = WHITNEY.slice();
    // PMTiles version 3 specification, §3: byte 99 is the tile type, 5 is AVIF.
    bytes[99] = 5;
    const fault = await faultOf(readInfo(sourceOf(bytes)));
    expect(fault.what).toMatch(/cannot be drawn/);
    expect(fault.remedy).toMatch(/PNG, JPEG or WebP/);
  });
});
