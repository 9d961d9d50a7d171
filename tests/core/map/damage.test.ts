/**
 * Archives damaged in thousands of ways, and some made to do harm: what comes of them is a Fault, a blind stretch or a
 * note, in bounded time, and never a number from nowhere. What is mutated is not packed, so that no check value stands
 * in the way.
 */
import { encode } from "fast-png";
import { readFileSync } from "node:fs";
import { PMTiles } from "pmtiles";
import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../core/legs/leg-settings.ts";
import { walkFigures } from "../../../core/legs/walk-figures.ts";
import type { MapFeatures } from "../../../core/map/features.ts";
import { openMap } from "../../../core/map/open-map.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { tileBbox } from "../../../core/map/tile-grid.ts";
import { pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { openTerrain } from "../../../core/terrain/terrain-tiles.ts";
import type { Bbox, LonLat } from "../../../core/units/position.ts";
import { METADATA } from "./support/archives.ts";
import { directoryBytes, type RawArchive, rawArchive, tileNumber } from "./support/raw-archive.ts";
import { type RawFeature, type RawLayer, vectorTileBytes, type XY } from "./support/vector-tile-bytes.ts";

const AT = { z: 14, x: 9122, y: 9840 };
const BOX = tileBbox(AT);
const [WEST, SOUTH, EAST, NORTH] = BOX;
const at = (u: number, v: number): LonLat => [WEST + u * (EAST - WEST), NORTH + v * (SOUTH - NORTH)];
const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };

/** Park and Miller's generator (CACM 31 (1988) 1192–1201). */
function generator(seed: number): (below: number) => number {
  let state = seed;
  return (below) => Math.floor(((state = (state * 48271) % 2147483647) / 2147483647) * below);
}

const archive = (tile: Uint8Array, more: Partial<RawArchive> = {}): Uint8Array =>
  rawArchive({
    tiles: [{ ...AT, bytes: tile }],
    bounds: BOX,
    metadata: { legwright: METADATA },
    inner: 1,
    tilePacking: 1,
    pack: (bytes) => bytes,
    ...more,
  });
const open = async (bytes: Uint8Array): Promise<MapFeatures> =>
  await openMap(bytesSource("a.pmtiles", bytes));

const line = (parts: readonly (readonly XY[])[], properties: RawFeature["properties"] = {}): RawFeature => ({
  type: "line",
  parts,
  properties,
});
const LAYERS: readonly RawLayer[] = [
  {
    name: "contour",
    features: [500, 510, 520, 530].map((ele, i) =>
      line(
        [
          [
            [-80, 600 * i + 300],
            [2000, 600 * i + 500],
            [4200, 600 * i + 200],
          ],
        ],
        { ele, index: ele === 500 },
      ),
    ),
  },
  {
    name: "path",
    features: [
      line(
        [
          [
            [1000, -80],
            [1100, 2000],
            [900, 4200],
          ],
        ],
        { name: "Low Path" },
      ),
    ],
  },
  {
    name: "water",
    features: [
      {
        type: "polygon",
        parts: [
          [
            [2000, 2000],
            [3000, 2100],
            [2600, 3000],
          ],
        ],
        properties: { ele: 500 },
      },
    ],
  },
  {
    name: "peak",
    features: [{ type: "point", parts: [[[3000, 700]]], properties: { name: "Knoll", ele: 541 } }],
  },
];
const GOOD = vectorTileBytes(LAYERS);

function mutated(
  good: Uint8Array,
  random: (below: number) => number,
  from = 0,
  to = good.length,
): Uint8Array {
  const bytes = Uint8Array.from(good);
  const place = (): number => from + random(to - from);
  switch (random(5)) {
    case 0:
      return bytes.subarray(0, place());
    case 1: // a number as long as numbers get
      bytes.set([255, 255, 255, 255, 15].slice(0, to - from), Math.min(place(), bytes.length - 5));
      return bytes;
    case 2: {
      const cut = place();
      return Buffer.concat([bytes.subarray(0, cut), bytes.subarray(Math.min(to, cut + random(9)))]);
    }
    default:
      for (let i = random(8); i >= 0; i--) bytes[place()] = random(256);
      return bytes;
  }
}

/** Everything a map answers about a box is in the box's tiles and on earth. */
function expectSane(map: MapFeatures): void {
  const slack = 1e-9;
  for (const { coords, elevationM } of map.lines(BOX)) {
    expect(coords.length).toBeGreaterThanOrEqual(4);
    for (let i = 0; i < coords.length; i += 2)
      if (
        !(coords[i]! >= WEST - slack && coords[i]! <= EAST + slack) ||
        !(coords[i + 1]! >= SOUTH - slack && coords[i + 1]! <= NORTH + slack)
      )
        expect.fail(`a line at ${coords[i]}, ${coords[i + 1]}`);
    expect(Math.abs(Number.isNaN(elevationM) ? 0 : elevationM)).toBeLessThanOrEqual(12_000);
  }
  for (const { rings } of map.areas(BOX))
    for (const ring of rings) expect(ring.every(Number.isFinite)).toBe(true);
  for (const { lonLat } of map.points(BOX)) expect(lonLat.every(Number.isFinite)).toBe(true);
  map.blind(BOX);
}

/** Each number of a walk's figures is a number, each length not negative. */
function expectNumbers(value: unknown, path: string): void {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) expect.fail(`${path} is ${value}`);
    return;
  }
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return;
  for (const [key, member] of Object.entries(value)) expectNumbers(member, `${path}.${key}`);
}

async function figuresOn(map: MapFeatures, elevation: ElevationModel | null = null) {
  const ends = [at(0.1, 0.05), at(0.8, 0.9), at(1.3, 0.5)].map((lonLat, i) => ({ label: "ABC"[i]!, lonLat }));
  const figures = await walkFigures(ends, { map, elevation }, settings);
  expectNumbers(figures, "figures");
  for (const { crossings, distanceM } of figures.legs)
    for (const { atM } of crossings) expect(atM >= 0 && atM <= distanceM).toBe(true);
  return figures;
}

/** Longest time of one case, so that a hang shows as one, milliseconds. */
async function slowest(cases: number, run: (i: number) => Promise<void>): Promise<number> {
  let longest = 0;
  for (let i = 0; i < cases; i++) {
    const start = performance.now();
    await run(i);
    longest = Math.max(longest, performance.now() - start);
  }
  return longest;
}

describe("damaged tiles", () => {
  it("2000 times over, small: what is read of them is on earth", { timeout: 120_000 }, async () => {
    const random = generator(11);
    let damaged = 0;
    let read = 0;
    const longest = await slowest(2000, async (i) => {
      const map = await open(archive(mutated(GOOD, random)));
      await map.prepare(BOX);
      expectSane(map);
      if (map.blind(BOX).some(({ reason }) => reason === "damaged")) damaged++;
      else read++;
      if (i % 10 === 0) await figuresOn(map);
    });
    expect(damaged).toBeGreaterThan(300);
    expect(read).toBeGreaterThan(300);
    expect(longest).toBeLessThan(5000);
  });

  it("100 times over, a town's real tile", { timeout: 120_000 }, async () => {
    const bytes = readFileSync(new URL("../../fixtures/open-tiles/florence.pmtiles", import.meta.url));
    const source = {
      getKey: () => "florence",
      getBytes: async (from: number, length: number) => ({
        data: new Uint8Array(bytes.subarray(from, from + length)).buffer,
      }),
    };
    const tile = new Uint8Array((await new PMTiles(source).getZxy(13, 4352, 2987))!.data);
    const random = generator(12);
    const longest = await slowest(100, async () => {
      const map = await open(archive(mutated(tile, random), { metadata: {} }));
      await map.prepare(BOX);
      expectSane(map);
    });
    expect(longest).toBeLessThan(10_000);
  });
});

it(
  "1500 damaged headers, directories and descriptions end in a map or a Fault",
  { timeout: 120_000 },
  async () => {
    const random = generator(13);
    let faults = 0;
    let maps = 0;
    for (const leaves of [false, true]) {
      const good = archive(GOOD, { leaves });
      const longest = await slowest(750, async () => {
        try {
          const map = await open(mutated(good, random, 0, good.length - GOOD.length));
          maps++;
          await map.prepare(BOX);
          map.lines(BOX);
          map.blind(BOX);
        } catch (thrown) {
          expect(thrown).toBeInstanceOf(Fault);
          expect((thrown as Fault).code).toMatch(/^(bad-archive|out-of-range)$/);
          faults++;
        }
      });
      expect(longest).toBeLessThan(5000);
    }
    expect(maps).toBeGreaterThan(100);
    expect(faults).toBeGreaterThan(200);
  },
);

describe("an archive made to do harm", () => {
  const blindOf = async (bytes: Uint8Array): Promise<string[]> => {
    const map = await open(bytes);
    await map.prepare(BOX);
    expectSane(map);
    return map.blind(BOX).map(({ reason }) => reason);
  };
  const id = tileNumber(AT.z, AT.x, AT.y);

  it("whose leaf directory points to itself is damaged there", async () => {
    const leafBytes = directoryBytes([{ id: 0, run: 0, length: 7, offset: 0 }]);
    const root = [{ id: 0, run: 0, length: leafBytes.length, offset: 0 }];
    expect(await blindOf(archive(GOOD, { root, leafBytes }))).toEqual(["damaged"]);
  });
  it.for([2 ** 31, 2 ** 45])("whose tile claims to be %i bytes long is damaged there", async (length) => {
    expect(await blindOf(archive(GOOD, { root: [{ id, run: 1, length, offset: 0 }] }))).toEqual(["damaged"]);
    expect(await blindOf(archive(GOOD, { root: [{ id, run: 1, length: 9, offset: length }] }))).toEqual([
      "damaged",
    ]);
  });
  it.for([16, 32, 64])("whose header at %i claims 2⁵² bytes is refused", async (place) => {
    const thrown: unknown = await open(archive(GOOD, { header: { [place]: 2 ** 52 } })).catch(
      (e: unknown) => e,
    );
    expect(thrown).toMatchObject({ code: "bad-archive" });
  });
  it("whose directory claims a billion entries is refused", async () => {
    const bytes = archive(GOOD);
    bytes.set([255, 255, 255, 255, 3], 127);
    const thrown: unknown = await open(bytes).catch((e: unknown) => e);
    expect(thrown).toMatchObject({ code: "bad-archive" });
  });

  it("whose tile closes a ring half a billion times is damaged there", async () => {
    // A layer with one polygon: move to 0, 0; close path 2²⁸ times, in bytes of MVT 2.1 §4.3.
    const geometry = [9, 0, 0, 0xff, 0xff, 0xff, 0xff, 0x07];
    const feature = [0x18, 3, 0x22, geometry.length, ...geometry, 0];
    feature[3]! += 1;
    const layer = [0x0a, 5, ...new TextEncoder().encode("water"), 0x12, feature.length, ...feature, 0x78, 2];
    expect(await blindOf(archive(Uint8Array.from([0x1a, layer.length, ...layer])))).toEqual(["damaged"]);
  });
  it("whose tiles have thousands of like ends in one place is read in bounded time", async () => {
    const many = (x: number): RawLayer => ({
      name: "path",
      features: [
        line(
          Array.from(
            { length: 4000 },
            (_, i) =>
              [
                [x, 2000],
                [2000 + (i % 50), i % 4000],
              ] as const,
          ),
        ),
      ],
    });
    const map = await open(
      archive(new Uint8Array(0), {
        tiles: [4096, 0].map((x, i) => ({ ...AT, x: AT.x + i, bytes: vectorTileBytes([many(x)]) })),
        bounds: [WEST, SOUTH, EAST + (EAST - WEST), NORTH],
      }),
    );
    const both: Bbox = [WEST + 1e-5, SOUTH + 1e-5, EAST + 1e-3, NORTH - 1e-5];
    await map.prepare(both);
    const start = performance.now();
    expect(map.lines(both).length).toBeGreaterThan(0);
    expect(performance.now() - start).toBeLessThan(5000);
  });
});

describe("what makes no sense on a map", () => {
  const onTile = async (layers: readonly RawLayer[]) => {
    const map = await open(archive(vectorTileBytes(layers)));
    return { map, figures: await figuresOn(map) };
  };
  const contours = (of: Record<string, string | number | boolean>): RawLayer => ({
    ...LAYERS[0]!,
    features: LAYERS[0]!.features.map((f) => ({ ...f, properties: of })),
  });

  it.for<[string, Record<string, string | number | boolean>]>([
    ["without elevation", { index: true }],
    ["with words for elevation", { ele: "high" }],
    ["as high as no ground is", { ele: 88_480 }],
    ["of elevation 1e308", { ele: 1e308 }],
  ])("contours %s give no heights, and a note", async ([, properties]) => {
    const { figures } = await onTile([contours(properties), ...LAYERS.slice(1)]);
    const [leg] = figures.legs;
    expect(leg?.climbM).toBeNull();
    expect(leg?.slopeDistanceM).toBeNull();
    expect(leg?.notes.join(" ")).toMatch(/[Hh]eights/);
    // What does not hang on heights stays.
    expect(leg?.crossings.some(({ name }) => name === "Low Path")).toBe(true);
  });

  it("a line that crosses itself is met as often as the leg passes it", async () => {
    // A figure of eight whose knot lies off the leg: the leg, along v = u·(17/14) + …, meets it where turf would.
    const eight: XY[] = [
      [600, 600],
      [1600, 1400],
      [1600, 600],
      [600, 1400],
      [600, 600],
    ];
    const { figures } = await onTile([{ name: "path", features: [line([eight], { name: "Eight" })] }]);
    // In tile units the leg runs from (409.6, 204.8) to (3276.8, 3686.4): it passes three of the four sides.
    const side = ([x, y]: XY): number => Math.sign((x - 409.6) * 3481.6 - (y - 204.8) * 2867.2);
    const passed = eight.slice(1).filter((p, i) => side(p) !== side(eight[i]!)).length;
    expect(passed).toBeGreaterThan(1);
    expect(figures.legs[0]?.crossings.filter(({ name }) => name === "Eight")).toHaveLength(passed);
  });

  it.for([1, 3, 2 ** 31])("an extent of %i is taken as it is", async (extent) => {
    await onTile([
      {
        name: "path",
        extent,
        features: [
          line([
            [
              [0, 0],
              [2 ** 30, 2 ** 29],
              [-(2 ** 30), 5],
            ],
          ]),
        ],
      },
    ]);
  });
  it("an extent of nothing is damage", async () => {
    const { map, figures } = await onTile([
      {
        name: "path",
        extent: 0,
        features: [
          line([
            [
              [0, 0],
              [9, 9],
            ],
          ]),
        ],
      },
    ]);
    expect(map.blind(BOX).map(({ reason }) => reason)).toEqual(["damaged"]);
    expect(figures.legs[0]?.notes.join(" ")).toMatch(/damaged/);
  });
  it("lines of one place, over and over, are no lines", async () => {
    await onTile([
      {
        name: "path",
        features: [
          line([
            [
              [7, 7],
              [7, 7],
              [7, 7],
            ],
          ]),
          line([[[7, 7]]]),
        ],
      },
    ]);
  });

  it("terrain full of voids gives no heights, and a note", async () => {
    const writer = pmtilesWriter("png");
    const side = 64;
    const data = new Uint8Array(side * side * 3);
    // One pixel that is known, so that it is no archive of nothing: 512 m, far from the legs.
    data.set([130, 0, 0], side * side * 3 - 3);
    writer.add(AT.z, AT.x, AT.y, encode({ width: side, height: side, data, channels: 3, depth: 8 }));
    const bytes = Buffer.concat(writer.finish({ bounds: BOX, metadata: {} }).pieces);
    const model = await openTerrain(bytesSource("a.terrain.pmtiles", bytes));
    const map = await open(archive(vectorTileBytes(LAYERS.slice(1))));
    const { legs } = await figuresOn(map, model);
    for (const { climbM, elevationErrorM, notes } of legs) {
      expect(climbM).toBeNull();
      expect(elevationErrorM).toBeNull();
      expect(notes.join(" ")).toMatch(/[Hh]eights/);
    }
  });
});
