/** Packing by Node's zlib, which is Google's Brotli and zlib themselves. */
import { brotliCompressSync, constants, deflateRawSync, gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { openArchive } from "../../../core/map/archive.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { tileBbox } from "../../../core/map/tile-grid.ts";
import { gunzip, MOST_UNPACKED_BYTES } from "../../../core/map/unpack.ts";
import { GROUND_DECODERS } from "../../../electron/services/ground-decoders.ts";
import { rawArchive } from "./support/raw-archive.ts";
import { vectorTileBytes } from "./support/vector-tile-bytes.ts";

const [GZIP, BROTLI, ZSTD] = [2, 3, 4];
const AT = { z: 14, x: 9122, y: 9840 };
const BOX = tileBbox(AT);
const TILE = vectorTileBytes([
  {
    name: "path",
    features: [
      {
        type: "line",
        parts: [
          [
            [100, 100],
            [2000, 3000],
          ],
        ],
        properties: { name: "a" },
      },
    ],
  },
]);
const pack = (method: number) => (bytes: Uint8Array) =>
  method === BROTLI ? brotliCompressSync(bytes) : method === GZIP ? gzipSync(bytes) : bytes;

const faultOf = async (work: Promise<unknown>): Promise<Fault> => {
  const thrown: unknown = await work.catch((e: unknown) => e);
  expect(thrown).toBeInstanceOf(Fault);
  return thrown as Fault;
};
const archive = (inner: number, tiles: number, tile: Uint8Array = pack(tiles)(TILE), leaves = false) =>
  bytesSource(
    "a.pmtiles",
    rawArchive({
      tiles: [{ ...AT, bytes: tile }],
      bounds: BOX,
      inner,
      tilePacking: tiles,
      pack: pack(inner),
      leaves,
    }),
  );

describe("an archive packed", () => {
  for (const [inner, tiles] of [
    [BROTLI, BROTLI],
    [BROTLI, GZIP],
    [GZIP, BROTLI],
    [1, BROTLI],
    [BROTLI, 1],
  ] as const)
    for (const leaves of [false, true])
      it(`by methods ${inner} and ${tiles}${leaves ? ", with leaf directories" : ""}, is read`, async () => {
        const map = await openMap(archive(inner, tiles, undefined, leaves), GROUND_DECODERS);
        await map.prepare(BOX);
        expect(map.lines(BOX).map(({ name }) => name)).toEqual(["a"]);
        expect(map.info.title).toBe("Packed");
      });

  it("with Brotli is refused where nothing unpacks it, and Zstandard everywhere", async () => {
    expect(await faultOf(openArchive(archive(BROTLI, GZIP)))).toMatchObject({
      code: "bad-archive",
      where: "a.pmtiles",
    });
    expect((await faultOf(openArchive(archive(GZIP, BROTLI)))).what).toContain("Brotli");
    expect((await faultOf(openArchive(archive(GZIP, ZSTD), GROUND_DECODERS))).what).toContain("Zstandard");
  });
});

describe("what unpacks to more than a map can hold", () => {
  const zeros = new Uint8Array(MOST_UNPACKED_BYTES + 1);
  /** The memory a piece of work took beyond what was there, at most: buffers are outside the heap. */
  const tookMB = async (work: () => Promise<unknown>): Promise<number> => {
    const before = process.memoryUsage().arrayBuffers;
    await work();
    return (process.memoryUsage().arrayBuffers - before) / 2 ** 20;
  };

  for (const [name, method, bomb] of [
    ["gzip", GZIP, gzipSync(zeros)],
    ["Brotli", BROTLI, brotliCompressSync(zeros, { params: { [constants.BROTLI_PARAM_QUALITY]: 4 } })],
  ] as const) {
    it(`is a damaged tile (${name}, ${bomb.length} bytes)`, async () => {
      const opened = await openArchive(archive(GZIP, method, bomb), GROUND_DECODERS);
      const took = await tookMB(async () => {
        expect((await faultOf(opened.readTile(AT.z, AT.x, AT.y))).code).toBe("bad-tile");
      });
      expect(took).toBeLessThan(130);
    });
    it(`is a damaged archive when it is the directory (${name})`, async () => {
      const bytes = rawArchive({
        tiles: [{ ...AT, bytes: TILE }],
        bounds: BOX,
        inner: method,
        tilePacking: 1,
        pack: () => bomb,
      });
      expect((await faultOf(openArchive(bytesSource("b", bytes), GROUND_DECODERS))).code).toBe("bad-archive");
    });
  }

  it("is not believed about its size: too small, too big, or right of a damaged one", () => {
    const plain = new Uint8Array(500_000).map((_, i) => (i * i) >> 3);
    for (const size of [1000, plain.length]) {
      const packed = gzipSync(plain.subarray(0, size));
      expect(gunzip(packed)).toEqual(plain.subarray(0, size));
      for (const lie of [0, size - 1, size + 1, 2 ** 25, 2 ** 32 - 1]) {
        const bytes = Uint8Array.from(packed);
        new DataView(bytes.buffer).setUint32(bytes.length - 4, lie, true);
        expect(() => gunzip(bytes), `size ${lie} for ${size}`).toThrow(Fault);
      }
    }
  });

  it("is stopped early when its size lies small", () => {
    // 400 MB of zeros in a member that claims ten bytes.
    const bomb = Buffer.concat([
      Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3]),
      deflateRawSync(new Uint8Array(400 * 2 ** 20), { level: 1 }),
      Buffer.from([0, 0, 0, 0, 10, 0, 0, 0]),
    ]);
    expect(() => gunzip(bomb)).toThrow(Fault);
  });
});

it("a tile with any one byte flipped is refused, not read as another map", () => {
  const packed = gzipSync(TILE);
  let refused = 0;
  for (let i = 0; i < packed.length; i++)
    for (const bit of [1, 16, 128]) {
      const bytes = Uint8Array.from(packed);
      bytes[i]! ^= bit;
      let plain: Uint8Array | null = null;
      try {
        plain = gunzip(bytes);
      } catch (thrown) {
        expect(thrown).toBeInstanceOf(Fault);
        refused++;
      }
      // Flips in the header's time, system and flags change nothing of the content.
      if (plain) expect(plain).toEqual(TILE);
    }
  expect(refused).toBeGreaterThan(packed.length * 2);
});
