import { encode } from "fast-png";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { tileBbox } from "../../../core/map/tile-grid.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { openTerrain } from "../../../core/terrain/terrain-tiles.ts";
import type { Bbox, LonLat } from "../../../core/units/position.ts";

const Z = 12;
const X = 1000;
const Y = 1600;
const SIZE = 64;

type Height = (px: number, py: number) => number;
type Colour = (h: number) => readonly [number, number, number];

// Source of both: MapLibre style specification, raster-dem sources, "encoding".
const terrarium: Colour = (h) => {
  const v = h + 32768;
  return [Math.floor(v / 256), Math.floor(v) % 256, Math.round((v - Math.floor(v)) * 256)];
};
const tenths: Colour = (h) => {
  const v = Math.round((h + 10000) * 10);
  return [v >> 16, (v >> 8) & 255, v & 255];
};

/** A tile whose pixel (i, j) has the height of world pixel (x · SIZE + i, y · SIZE + j); NaN makes it black. */
function picture(x: number, y: number, height: Height, colour: Colour, channels: 3 | 4 = 3): Uint8Array {
  const data = new Uint8Array(SIZE * SIZE * channels);
  for (let j = 0; j < SIZE; j++)
    for (let i = 0; i < SIZE; i++) {
      const h = height(x * SIZE + i, y * SIZE + j);
      const p = (j * SIZE + i) * channels;
      if (!Number.isNaN(h)) data.set(colour(h), p);
      if (channels === 4) data[p + 3] = Number.isNaN(h) ? 0 : 255;
    }
  return encode({ width: SIZE, height: SIZE, data, channels, depth: 8 });
}

const [WEST, , , NORTH] = tileBbox({ z: Z, x: X, y: Y });
const [, SOUTH, EAST] = tileBbox({ z: Z, x: X + 1, y: Y + 1 });
const BOUNDS: Bbox = [WEST + 1e-7, SOUTH + 1e-7, EAST - 1e-7, NORTH - 1e-7];

function archive(
  height: Height,
  {
    colour = terrarium,
    channels = 3,
    metadata = {},
    skip = [],
  }: { colour?: Colour; channels?: 3 | 4; metadata?: object; skip?: readonly string[] } = {},
): Uint8Array {
  const writer = pmtilesWriter("png");
  for (const x of [X, X + 1])
    for (const y of [Y, Y + 1])
      if (!skip.includes(`${x}/${y}`)) writer.add(Z, x, y, picture(x, y, height, colour, channels));
  return Buffer.concat(writer.finish({ bounds: BOUNDS, metadata: { ...metadata } }).pieces);
}

/** Where world pixel coordinates lie: pixel (i, j)'s centre is at (i + ½, j + ½). */
function place(px: number, py: number): LonLat {
  const n = SIZE * 2 ** Z;
  return [(px / n) * 360 - 180, (Math.atan(Math.sinh(Math.PI * (1 - (2 * py) / n))) * 180) / Math.PI];
}

const open = async (bytes: Uint8Array) => {
  const model = await openTerrain(bytesSource("x.terrain.pmtiles", bytes));
  await model.prepare(BOUNDS);
  return model;
};
const [PX, PY] = [X * SIZE, Y * SIZE];

describe("heights from terrain tiles", () => {
  const plane: Height = (px, py) => 200 + 2 * (px - PX) + 0.5 * (py - PY);

  it("are the samples' own at the pixels' centres", async () => {
    const model = await open(archive(plane));
    for (const [i, j] of [
      [0, 0],
      [5, 9],
      [63, 63],
      [64, 64],
      [100, 30],
    ] as const)
      expect(model.at(place(PX + i + 0.5, PY + j + 0.5))).toBeCloseTo(plane(PX + i, PY + j), 4);
  });

  it("of a plane are the plane between samples and across the tiles' edges", async () => {
    const model = await open(archive(plane));
    for (let k = 1; k < 200; k++) {
      const [u, v] = [1 + ((k * 37.3) % 125), 1 + ((k * 61.7) % 125)];
      // Heights are written to 1/256 m.
      expect(model.at(place(PX + u + 0.5, PY + v + 0.5))).toBeCloseTo(200 + 2 * u + 0.5 * v, 2);
    }
  });

  it("between four samples are bilinear", async () => {
    // u·v is bilinear itself: exact between neighbouring samples.
    const model = await open(archive((px, py) => (px - PX) * (py - PY)));
    expect(model.at(place(PX + 10.75, PY + 20.9))).toBeCloseTo(10.25 * 20.4, 2);
    expect(model.at(place(PX + 63.75, PY + 63.9))).toBeCloseTo(63.25 * 63.4, 2);
  });

  it("are the same in the other encoding, when the metadata names it", async () => {
    const model = await open(archive(plane, { colour: tenths, metadata: { encoding: "mapbox" } }));
    expect(model.at(place(PX + 30.5, PY + 40.5))).toBeCloseTo(plane(PX + 30, PY + 40), 4);
    const own = await open(
      archive(plane, { metadata: { legwright: { encoding: "terrarium", tileSize: 64 } } }),
    );
    expect(own.at(place(PX + 30.5, PY + 40.5))).toBeCloseTo(plane(PX + 30, PY + 40), 4);
  });

  it("below the sea are negative", async () =>
    expect((await open(archive(() => -412.5))).at(place(PX + 9, PY + 9))).toBe(-412.5));

  it("have the spacing of the pixels at their latitude", async () => {
    // 2π · 6378137 m / (64 · 4096) at the equator.
    const model = await open(archive(plane));
    expect(model.spacingM(0)).toBeCloseTo(152.8741, 3);
    expect(model.spacingM(60)).toBeCloseTo(76.437, 3);
  });
});

describe("there is no height", () => {
  const holed: Height = (px, py) => (px === PX + 20 && py === PY + 20 ? Number.NaN : 100);
  for (const channels of [3, 4] as const)
    it(`on a void or wherever one takes part (${channels} channels)`, async () => {
      const model = await open(archive(holed, { channels }));
      for (const [u, v] of [
        [20.5, 20.5],
        [20.1, 20.5],
        [21.4, 20.9],
        [19.6, 19.6],
        [21.4, 21.4],
      ] as const)
        expect(model.at(place(PX + u, PY + v))).toBeNaN();
      for (const [u, v] of [
        [19.4, 20.5],
        [21.6, 20.5],
        [20.5, 19.4],
        [25, 25],
      ] as const)
        expect(model.at(place(PX + u, PY + v))).toBe(100);
    });
  it("outside, and next to a tile that is missing", async () => {
    const model = await open(archive(() => 100, { skip: [`${X + 1}/${Y}`] }));
    expect(model.at(place(PX - 3, PY + 9))).toBeNaN();
    expect(model.at(place(PX + 70, PY + 9))).toBeNaN();
    expect(model.at(place(PX + 63.9, PY + 9))).toBeNaN();
    expect(model.at(place(PX + 63.1, PY + 9))).toBe(100);
  });
  it("before it was prepared", async () => {
    const model = await openTerrain(
      bytesSource(
        "x",
        archive(() => 100),
      ),
    );
    expect(model.isPrepared(BOUNDS)).toBe(false);
    expect(model.at(place(PX + 9, PY + 9))).toBeNaN();
  });
  it("in a tile that is damaged", async () => {
    const writer = pmtilesWriter("png");
    writer.add(
      Z,
      X,
      Y,
      picture(X, Y, () => 100, terrarium),
    );
    writer.add(Z, X + 1, Y, picture(X + 1, Y, (px) => 100 + (px % 7), terrarium).subarray(0, 90));
    const model = await open(Buffer.concat(writer.finish({ bounds: BOUNDS, metadata: {} }).pieces));
    expect(model.at(place(PX + 9, PY + 9))).toBe(100);
    expect(model.at(place(PX + 70, PY + 9))).toBeNaN();
  });
});

describe("an archive that gives no heights is refused:", () => {
  const faultOf = async (bytes: Uint8Array): Promise<Fault> => {
    const thrown = await openTerrain(bytesSource("x.terrain.pmtiles", bytes)).catch((e: unknown) => e);
    expect(thrown).toBeInstanceOf(Fault);
    expect(thrown).toMatchObject({ code: "bad-archive", where: "x.terrain.pmtiles" });
    return thrown as Fault;
  };
  it("vector tiles", async () => {
    const writer = pmtilesWriter("mvt");
    writer.add(Z, X, Y, Uint8Array.of(1, 2, 3));
    await faultOf(Buffer.concat(writer.finish({ bounds: BOUNDS, metadata: {} }).pieces));
  });
  it("pictures of another kind, unless something decodes them", async () => {
    const writer = pmtilesWriter("webp");
    writer.add(Z, X, Y, Uint8Array.of(1, 2, 3));
    const bytes = Buffer.concat(writer.finish({ bounds: BOUNDS, metadata: {} }).pieces);
    expect((await faultOf(bytes)).what).toContain("WebP");
  });
  it("an encoding it does not know", async () =>
    expect((await faultOf(archive(() => 1, { metadata: { encoding: "base1" } }))).what).toContain("base1"));
  it("no bytes", async () => void (await faultOf(new Uint8Array(0))));
});
