import { describe, expect, it, vi } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { type ByteSource, bytesSource } from "../../../core/map/source.ts";
import { tileBbox } from "../../../core/map/tile-grid.ts";
import type { Bbox } from "../../../core/units/position.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { archiveBytes, archiveSource, METADATA, type RawTile } from "./support/archives.ts";
import { vectorTileBytes } from "./support/vector-tile-bytes.ts";

const Z = 14;
const X = 9122;
const Y = 9840;
const box = (x: number, y: number, x1 = x, y1 = y): Bbox => {
  const [west, , , north] = tileBbox({ z: Z, x, y });
  const [, south, east] = tileBbox({ z: Z, x: x1, y: y1 });
  return [west + 1e-6, south + 1e-6, east - 1e-6, north - 1e-6];
};
const path = (name: string): RawTile["layers"] => [
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
        properties: { name },
      },
    ],
  },
];
const tile = (x: number, y: number, name = `${x}/${y}`): RawTile => ({ z: Z, x, y, layers: path(name) });

async function faultOf(source: ByteSource): Promise<Fault> {
  const thrown = await openMap(source).catch((e: unknown) => e);
  expect(thrown).toBeInstanceOf(Fault);
  return thrown as Fault;
}

describe("an archive that is none", () => {
  const whole = archiveBytes([tile(X, Y)], box(X, Y));
  for (const [what, bytes] of [
    ["of no bytes", new Uint8Array(0)],
    ["of text", new TextEncoder().encode("This is not the archive you are looking for. ".repeat(5))],
    ["cut within its header", whole.subarray(0, 90)],
    ["cut within its directory", whole.subarray(0, 140)],
    ["cut within its last tile", whole.subarray(0, whole.length - 3)],
    ["of another version", Uint8Array.from(whole, (b, i) => (i === 7 ? 2 : b))],
    [
      "with a directory of noise",
      Uint8Array.from(whole, (b, i) => (i > 126 && i < 160 ? (i * 37) & 255 : b)),
    ],
    ["with impossible zooms", Uint8Array.from(whole, (b, i) => (i === 100 ? 20 : b))],
    ["packed in an unknown way", Uint8Array.from(whole, (b, i) => (i === 97 ? 3 : b))],
  ] as const)
    it(`${what} is refused, naming the file`, async () => {
      const fault = await faultOf(bytesSource("walk.pmtiles", bytes));
      expect(fault.code).toBe("bad-archive");
      expect(fault.where).toBe("walk.pmtiles");
      expect(fault.what.length).toBeGreaterThan(20);
    });

  it("of pictures is refused", async () => {
    const writer = pmtilesWriter("png");
    writer.add(Z, X, Y, new Uint8Array([1, 2, 3]));
    const bytes = Buffer.concat(writer.finish({ bounds: box(X, Y), metadata: {} }).pieces);
    expect((await faultOf(bytesSource("heights.pmtiles", bytes))).what).toContain("pictures");
  });

  it("whose source is gone says what the source says", async () => {
    const gone: ByteSource = {
      key: "a.pmtiles",
      read: () => Promise.reject(new Fault("no-file", "The file is gone.", "a.pmtiles")),
    };
    expect((await faultOf(gone)).code).toBe("no-file");
  });
});

describe("what an archive says of itself", () => {
  it("comes from our own metadata", async () => {
    const { info } = await openMap(archiveSource([tile(X, Y)], box(X, Y)));
    expect(info).toMatchObject({
      id: "test-map",
      title: "Test map",
      minZoom: Z,
      maxZoom: Z,
      rolesFrom: "metadata",
      roles: METADATA.roles,
      interval: { value: 10, unit: "m" },
      source: "made for a test",
      date: "2026",
      invented: true,
      elevationCellM: 10,
    });
  });

  it("without our metadata still has an id that does not depend on its name, and bounds", async () => {
    const bytes = archiveBytes([tile(X, Y)], box(X, Y), {});
    const [a, b] = await Promise.all([
      openMap(bytesSource("a.pmtiles", bytes)),
      openMap(bytesSource("b.pmtiles", bytes)),
    ]);
    expect(a.info.id).toBe(b.info.id);
    expect(a.info.title).toBe("a");
    expect(a.info.rolesFrom).toBe("guess");
    expect(a.info.roles.path?.layer).toBe("path");
  });

  const noBounds = (bytes: Uint8Array): Uint8Array =>
    Uint8Array.from(bytes, (b, i) => (i >= 102 && i < 118 ? 0 : b));
  it("without bounds in its header has those of its metadata", async () => {
    const bytes = archiveBytes([tile(X, Y)], box(X, Y), {
      bounds: "20.1,-34.2,20.9,-33.9",
      legwright: METADATA,
    });
    expect((await openMap(bytesSource("a", noBounds(bytes)))).info.bounds).toEqual([
      20.1, -34.2, 20.9, -33.9,
    ]);
  });
  it("without any bounds is taken as the whole world, and read", async () => {
    const map = await openMap(bytesSource("a", noBounds(archiveBytes([tile(X, Y)], box(X, Y)))));
    expect(map.info.bounds[0]).toBe(-180);
    await map.prepare(box(X, Y));
    expect(map.lines(box(X, Y)).length).toBe(1);
  });
  it("with nonsense for roles falls back to guessing", async () => {
    const map = await openMap(
      archiveSource([tile(X, Y)], box(X, Y), {
        legwright: { roles: { path: 7, stream: { layer: "" } }, interval: "ten" },
      }),
    );
    expect(map.info.rolesFrom).toBe("guess");
    expect(map.info.interval).toBeNull();
  });
});

describe("roles that several layers play", () => {
  const line = (...parts: (readonly [number, number])[]) => ({ type: "line" as const, parts: [parts] });
  const shared = line([100, 100], [2000, 3000]);
  const layers = [
    { name: "a", features: [shared, line([5, 5], [90, 70])] },
    // The same line again, and one of its own.
    { name: "b", features: [shared, line([300, 5], [900, 70])] },
    {
      name: "bridges",
      features: [
        { type: "point" as const, parts: [[[50, 60] as const]], properties: { name: "Low Bridge" } },
      ],
    },
  ];
  const roles = { path: { layer: "a", also: [{ layer: "b" }] }, name: { layer: "bridges" } };
  const open = async (members: object) =>
    await openMap(
      archiveSource([{ z: Z, x: X, y: Y, layers }], box(X, Y), { legwright: { roles: members } }),
    );

  it("are read from all of them, what both hold once", async () => {
    const map = await open(roles);
    await map.prepare(box(X, Y));
    expect(map.lines(box(X, Y)).map(({ kind }) => kind)).toEqual(["path", "path", "path"]);
  });
  it("and named points are places", async () => {
    const map = await open(roles);
    await map.prepare(box(X, Y));
    expect(map.points(box(X, Y)).map(({ kind, name }) => [kind, name])).toEqual([["place", "Low Bridge"]]);
  });
  it("with nonsense in their fields are read as far as they make sense", async () => {
    const map = await open({
      path: { layer: "a", also: "b", where: { field: 7, in: 5 }, orWhere: 3, unit: [], name: {} },
      road: { layer: "b", also: [7, {}, { layer: "c", where: { field: "x", in: 4 } }] },
      water: [],
    });
    expect(map.info.roles).toEqual({ path: { layer: "a" }, road: { layer: "b", also: [{ layer: "c" }] } });
  });
});

describe("tiles that are missing or damaged", () => {
  const bounds = box(X, Y, X + 2, Y);
  const damaged = vectorTileBytes([
    {
      name: "path",
      features: [
        {
          type: "line",
          parts: [
            [
              [0, 0],
              [9, 9],
            ],
          ],
        },
      ],
    },
  ]).subarray(0, 12);

  it("leave the others readable, and are told", async () => {
    const map = await openMap(archiveSource([tile(X, Y), { z: Z, x: X + 1, y: Y, layers: damaged }], bounds));
    await map.prepare(bounds);
    expect(map.lines(bounds).map((l) => l.name)).toEqual([`${X}/${Y}`]);
    expect(map.blind(bounds).map((b) => b.reason)).toEqual(["damaged", "missing"]);
    expect(map.blind(box(X, Y))).toEqual([]);
  });

  it("of a stream of random damage never throw", async () => {
    const good = vectorTileBytes(path("x") as never);
    let seed = 7;
    const random = (n: number): number => (seed = (seed * 48271) % 2147483647) % n;
    for (let k = 0; k < 300; k++) {
      const bytes = Uint8Array.from(good);
      for (let i = 0; i < 3; i++) bytes[random(bytes.length)] = random(256);
      const map = await openMap(archiveSource([{ z: Z, x: X, y: Y, layers: bytes }], box(X, Y)));
      await map.prepare(box(X, Y));
      map.lines(box(X, Y));
      map.blind(box(X, Y));
    }
  });

  it("outside the map are outside", async () => {
    const map = await openMap(archiveSource([tile(X, Y)], box(X, Y)));
    const around = box(X - 1, Y - 1, X + 1, Y + 1);
    await map.prepare(around);
    const blind = map.blind(around);
    expect(new Set(blind.map((b) => b.reason))).toEqual(new Set(["outside"]));
    const size = ([w, s, e, n]: Bbox): number => (e - w) * (n - s);
    // The four parts and the map itself make up the box.
    expect(blind.reduce((sum, b) => sum + size(b.bbox), 0) + size(map.info.bounds)).toBeCloseTo(
      size(around),
      9,
    );
    const far = box(X + 50, Y + 50);
    await map.prepare(far);
    expect(map.isPrepared(far)).toBe(true);
    expect(map.lines(far)).toEqual([]);
    expect(map.blind(far)).toEqual([{ bbox: far, reason: "outside" }]);
  });

  it("left out where the tile above shows what there is are read from it", async () => {
    const above: RawTile = {
      z: Z - 1,
      x: X >> 1,
      y: Y >> 1,
      layers: [
        {
          name: "path",
          features: [
            {
              type: "line",
              parts: [
                [
                  [1000, 1000],
                  [3000, 1000],
                ],
              ],
              properties: { name: "over" },
            },
          ],
        },
      ],
    };
    const map = await openMap(
      archiveSource([above, { ...tile(X, Y), layers: path("own") }], box(X, Y, X + 1, Y)),
    );
    await map.prepare(box(X, Y, X + 1, Y));
    expect(map.blind(box(X, Y, X + 1, Y))).toEqual([]);
    const [over] = map.lines(box(X + 1, Y)).filter((l) => l.name === "over");
    // Half of the tile above: from its middle, 2048 of 4096, to 3000.
    const [west, , east] = tileBbox({ z: Z - 1, x: X >> 1, y: Y >> 1 });
    expect(over!.coords[0]).toBeCloseTo((west + east) / 2, 9);
    expect(over!.coords[2]).toBeCloseTo(west + ((east - west) * 3000) / 4096, 9);
  });
});

describe("reading", () => {
  const counted = (
    bytes: Uint8Array,
  ): { source: ByteSource; reads: () => number; fail: (on: boolean) => void } => {
    let failing = false;
    const read = vi.fn(async (offset: number, length: number) => {
      if (failing && offset > 0) throw new Fault("no-file", "The disk is away.", "a");
      return bytes.subarray(offset, offset + length);
    });
    return { source: { key: "a", read }, reads: () => read.mock.calls.length, fail: (on) => (failing = on) };
  };

  it("is done once for everyone who asks meanwhile, and not again", async () => {
    const { source, reads } = counted(archiveBytes([tile(X, Y)], box(X, Y)));
    const map = await openMap(source);
    const before = reads();
    await Promise.all([map.prepare(box(X, Y)), map.prepare(box(X, Y)), map.prepare(box(X, Y))]);
    await map.prepare(box(X, Y));
    expect(reads() - before).toBe(1);
  });

  it("that fails is told, and tried again when asked again", async () => {
    const { source, fail } = counted(archiveBytes([tile(X, Y)], box(X, Y)));
    const map = await openMap(source);
    fail(true);
    await expect(map.prepare(box(X, Y))).rejects.toMatchObject({ code: "no-file" });
    expect(map.isPrepared(box(X, Y))).toBe(false);
    fail(false);
    await map.prepare(box(X, Y));
    expect(map.lines(box(X, Y)).length).toBe(1);
  });

  it("can be cancelled", async () => {
    const map = await openMap(archiveSource([tile(X, Y)], box(X, Y)));
    await expect(map.prepare(box(X, Y), AbortSignal.abort())).rejects.toMatchObject({ code: "cancelled" });
  });

  it("of half a country at once is refused", async () => {
    const map = await openMap(archiveSource([tile(X, Y)], [15, -35, 30, -20]));
    await expect(map.prepare([15, -35, 30, -20])).rejects.toMatchObject({ code: "out-of-range" });
  });

  it("has to come before asking", async () => {
    const map = await openMap(archiveSource([tile(X, Y)], box(X, Y)));
    expect(map.isPrepared(box(X, Y))).toBe(false);
    expect(() => map.lines(box(X, Y))).toThrow(Fault);
  });

  it("refuses a box that is none", async () => {
    const map = await openMap(archiveSource([tile(X, Y)], box(X, Y)));
    await expect(map.prepare([Number.NaN, 0, 1, 1])).rejects.toMatchObject({ code: "bad-argument" });
  });
});
