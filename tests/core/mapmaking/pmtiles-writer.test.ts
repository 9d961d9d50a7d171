/** Checked against the reader of the `pmtiles` package, which is written by the authors of the format. */
import { describe, expect, it } from "vitest";
import { Compression, PMTiles, type Source, TileType, tileIdToZxy, zxyToTileId } from "pmtiles";
import { joinPieces, pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { Fault } from "../../../core/fault.ts";

const bounds = [10, 45, 11, 46] as const;

function memorySource(bytes: Uint8Array, reads: number[] = []): Source {
  return {
    getKey: () => "memory",
    getBytes: async (offset, length) => {
      reads.push(offset);
      const part = bytes.slice(offset, offset + length);
      return { data: part.buffer };
    },
  };
}

const text = (s: string): Uint8Array => new TextEncoder().encode(s);

describe("pmtiles writer", () => {
  it("gives back every tile of zooms 0 to 6 and nothing else", async () => {
    const writer = pmtilesWriter("mvt");
    for (let z = 0; z <= 6; z++)
      for (let x = 0; x < 2 ** z; x++)
        for (let y = 0; y < 2 ** z; y++) if ((x + y) % 3) writer.add(z, x, y, text(`tile ${z} ${x} ${y}`));
    const { pieces, counts } = writer.finish({
      bounds,
      metadata: { name: "Round trip", nested: { a: [1, "ü"] } },
    });
    const archive = new PMTiles(memorySource(joinPieces(pieces)));
    for (let z = 0; z <= 6; z++)
      for (let x = 0; x < 2 ** z; x++)
        for (let y = 0; y < 2 ** z; y++) {
          const tile = await archive.getZxy(z, x, y);
          expect(tile && new TextDecoder().decode(tile.data), `${z}/${x}/${y}`).toEqual(
            (x + y) % 3 ? `tile ${z} ${x} ${y}` : undefined,
          );
        }
    expect(await archive.getMetadata()).toEqual({ name: "Round trip", nested: { a: [1, "ü"] } });
    expect(counts.contents).toBe(counts.addressed);
  });

  it("writes a header with bounds, zooms, types and counts", async () => {
    const writer = pmtilesWriter("png");
    writer.add(3, 4, 2, text("a"));
    writer.add(5, 17, 11, text("b"));
    const header = await new PMTiles(
      memorySource(
        joinPieces(
          writer.finish({ bounds, centre: { lonLat: [10.25, 45.5], zoom: 4 }, metadata: {} }).pieces,
        ),
      ),
    ).getHeader();
    expect(header).toMatchObject({
      specVersion: 3,
      clustered: true,
      internalCompression: Compression.Gzip,
      tileCompression: Compression.None,
      tileType: TileType.Png,
      minZoom: 3,
      maxZoom: 5,
      minLon: 10,
      minLat: 45,
      maxLon: 11,
      maxLat: 46,
      centerLon: 10.25,
      centerLat: 45.5,
      centerZoom: 4,
      numAddressedTiles: 2,
      numTileEntries: 2,
      numTileContents: 2,
    });
  });

  it("stores equal tiles once and writes neighbours that are equal as one run", async () => {
    const writer = pmtilesWriter("mvt");
    // All of zoom 4 is sea but for one tile: sea before, land, sea after.
    const land = zxyToTileId(4, 5, 5);
    for (let id = zxyToTileId(4, 0, 0); id < zxyToTileId(5, 0, 0); id++) {
      const [z, x, y] = tileIdToZxy(id);
      writer.add(z, x, y, text(id === land ? "land" : "sea"));
    }
    const { pieces, counts } = writer.finish({ bounds, metadata: {} });
    expect(counts).toMatchObject({ addressed: 256, entries: 3, contents: 2, leafDirectories: 0 });
    const archive = new PMTiles(memorySource(joinPieces(pieces)));
    for (const [x, y, said] of [
      [0, 0, "sea"],
      [5, 5, "land"],
      [15, 15, "sea"],
    ] as const)
      expect(new TextDecoder().decode((await archive.getZxy(4, x, y))?.data)).toBe(said);
  });

  it("keeps the root directory within the first 16 KiB by moving entries into leaves", async () => {
    const writer = pmtilesWriter("png");
    // Every other tile of zoom 9 (131,072 of them), of lengths too random for the directory to compress away.
    const first = zxyToTileId(9, 0, 0);
    const told = (id: number): string => `${id} `.repeat(1 + ((Math.imul(id, 0x9e3779b1) >>> 9) % 200));
    for (let id = first; id < first + 4 ** 9; id += 2) {
      const [z, x, y] = tileIdToZxy(id);
      writer.add(z, x, y, text(told(id)));
    }
    const { pieces, counts } = writer.finish({ bounds, metadata: {} });
    expect(counts.leafDirectories).toBeGreaterThan(1);
    const bytes = joinPieces(pieces);
    const archive = new PMTiles(memorySource(bytes));
    const header = await archive.getHeader();
    expect(header.rootDirectoryOffset + header.rootDirectoryLength).toBeLessThanOrEqual(16_384);
    for (let id = first; id < first + 4 ** 9; id += 4_001) {
      const [z, x, y] = tileIdToZxy(id);
      const tile = await archive.getZxy(z, x, y);
      expect(tile && new TextDecoder().decode(tile.data), `id ${id}`).toEqual(
        (id - first) % 2 ? undefined : told(id),
      );
    }
  });

  it("lays tile data in the order of tile ids whatever the order they came in", async () => {
    const there = pmtilesWriter("mvt");
    const back = pmtilesWriter("mvt");
    const ids = Array.from({ length: 300 }, (_, i) => zxyToTileId(8, 0, 0) + i * 5);
    for (const id of ids) there.add(...tileIdToZxy(id), text(`t${id}`));
    for (const id of ids.toReversed()) back.add(...tileIdToZxy(id), text(`t${id}`));
    const header = { bounds, metadata: {} };
    expect(joinPieces(there.finish(header).pieces)).toEqual(joinPieces(back.finish(header).pieces));
  });

  it("refuses what cannot be a tile or an archive", () => {
    const writer = pmtilesWriter("mvt");
    const code = (run: () => void): string => {
      try {
        run();
      } catch (thrown) {
        return Fault.from(thrown).code;
      }
      return "no fault";
    };
    expect(code(() => writer.finish({ bounds, metadata: {} }))).toBe("bad-argument");
    writer.add(2, 1, 1, text("a"));
    expect(code(() => writer.add(2, 1, 1, text("b")))).toBe("bad-argument");
    expect(code(() => writer.add(2, 4, 0, text("b")))).toBe("bad-argument");
    expect(code(() => writer.add(27, 0, 0, text("b")))).toBe("bad-argument");
    expect(code(() => writer.add(2, 0.5, 0, text("b")))).toBe("bad-argument");
    expect(code(() => writer.add(2, 0, 0, new Uint8Array(0)))).toBe("bad-argument");
    expect(code(() => writer.finish({ bounds: [11, 45, 10, 46], metadata: {} }))).toBe("bad-argument");
    expect(code(() => writer.finish({ bounds: [Number.NaN, 45, 10, 46], metadata: {} }))).toBe(
      "bad-argument",
    );
  });
});
