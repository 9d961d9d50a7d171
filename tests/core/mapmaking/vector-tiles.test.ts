import { describe, expect, it } from "vitest";
import { classifyRings } from "@mapbox/vector-tile";
import { joinPieces, pmtilesWriter } from "../../../core/mapmaking/pmtiles-writer.ts";
import { clipArea } from "../../../core/mapmaking/tile-clip-area.ts";
import { clipLine, twiceArea } from "../../../core/mapmaking/tile-clip.ts";
import { AREA, LINE, POINT, type TileFeature } from "../../../core/mapmaking/tile-feature.ts";
import { simplify } from "../../../core/mapmaking/simplify.ts";
import { wound, writeVectorTiles } from "../../../core/mapmaking/vector-tiles.ts";
import { featuresAt, type Found, openArchive, vectorTileAt } from "./read-back.ts";

const MAX = 10;
const EXTENT = 4096;
/** Of tiles 498 to 510 by 398 to 403 of zoom 10. */
const bounds = [-4.7461, 35.6037, -0.5273, 37.0201] as const;

async function tilesOf(
  features: readonly TileFeature[],
  minZoom = MAX,
): Promise<ReturnType<typeof openArchive>> {
  const writer = pmtilesWriter("mvt");
  writeVectorTiles(features, { minZoom, maxZoom: MAX }, writer);
  return openArchive(joinPieces(writer.finish({ bounds, metadata: {} }).pieces));
}

const line = (coords: number[], minZoom = 0): TileFeature => ({
  role: "path",
  type: LINE,
  parts: [Int32Array.from(coords)],
  attributes: { name: "a", ele: 12.5, class: "path", index: true, below: -3 },
  minZoom,
});
const area = (...rings: number[][]): TileFeature => ({
  role: "wood",
  type: AREA,
  parts: wound(rings.map((ring) => Int32Array.from(ring))),
  attributes: {},
  minZoom: 0,
});
/** Corner of tile (500, 400) of zoom 10. */
const [X, Y] = [500 * EXTENT, 400 * EXTENT];

describe("lines in tiles", () => {
  it("cross tile edges at the same place on both sides, and reach 64 units beyond", async () => {
    const archive = await tilesOf([line([X + 4000, Y + 100, X + 4200, Y + 200])]);
    const [left, right] = await Promise.all([
      vectorTileAt(archive, MAX, 500, 400),
      vectorTileAt(archive, MAX, 501, 400),
    ]);
    const points = (tile: typeof left): number[][] =>
      tile!.layers["path"]!.feature(0)
        .loadGeometry()[0]!
        .map((p) => [p.x, p.y]);
    // By hand: 4000 to 4160 is 160 of 200 units across, so 80 of 100 down; −64 is 4032, 32 across, 16 down.
    expect(points(left)).toEqual([
      [4000, 100],
      [4160, 180],
    ]);
    expect(points(right)).toEqual([
      [-64, 116],
      [104, 200],
    ]);
    expect(left!.layers["path"]!.feature(0).properties).toEqual({
      name: "a",
      ele: 12.5,
      class: "path",
      index: true,
      below: -3,
    });
    expect(left!.layers["path"]!.extent).toBe(EXTENT);
    expect(left!.layers["path"]!.version).toBe(2);
  });

  it("lose and gain nothing at the highest zoom: pieces of a long crooked line add up to it", async () => {
    const coords: number[] = [];
    for (let i = 0; i <= 4000; i++) coords.push(X + 7 * i, Y + Math.round(3000 * Math.sin(i / 90)) + (i % 5));
    const found = await featuresAt(await tilesOf([line(coords)]), MAX);
    expect(new Set(found.map(({ tile }) => tile.join("/"))).size).toBeGreaterThan(10);
    const all = new Set<string>();
    for (const { feature, tile } of found)
      for (const part of feature.loadGeometry())
        for (const p of part) all.add(`${tile[1] * EXTENT + p.x} ${tile[2] * EXTENT + p.y}`);
    for (let i = 0; i < coords.length; i += 2) expect(all.has(`${coords[i]} ${coords[i + 1]}`)).toBe(true);
    // And what is inside a tile proper covers the line once: lengths add up.
    let length = 0;
    for (const { feature } of found)
      for (const part of feature.loadGeometry()) {
        const inside: Int32Array[] = [];
        const flat = Int32Array.from(part.flatMap((p) => [p.x, p.y]));
        const across: Int32Array[] = [];
        clipLine(flat, 0, 0, EXTENT, across);
        for (const piece of across) clipLine(piece, 1, 0, EXTENT, inside);
        for (const piece of inside)
          for (let i = 2; i < piece.length; i += 2)
            length += Math.hypot(piece[i]! - piece[i - 2]!, piece[i + 1]! - piece[i - 1]!);
      }
    let whole = 0;
    for (let i = 2; i < coords.length; i += 2)
      whole += Math.hypot(coords[i]! - coords[i - 2]!, coords[i + 1]! - coords[i - 1]!);
    expect(length / whole).toBeCloseTo(1, 4);
  });

  it("are thinned by less than a pixel at lower zooms, and left out below their lowest zoom", async () => {
    const coords: number[] = [];
    for (let i = 0; i <= 2000; i++) coords.push(X + 20 * i, Y + Math.round(500 * Math.sin(i / 60)));
    const archive = await tilesOf([line(coords, 7)], 6);
    for (const zoom of [9, 8, 7]) {
      const unit = 2 ** (MAX - zoom);
      const found = await featuresAt(archive, zoom);
      let vertices = 0;
      for (const { feature, tile } of found)
        for (const part of feature.loadGeometry())
          for (const p of part) {
            vertices++;
            const [x, y] = [(tile[1] * EXTENT + p.x) * unit, (tile[2] * EXTENT + p.y) * unit];
            // The tolerance is 4 units a zoom, adding up to less than 8; slope of the curve is 0.42 at most.
            expect(Math.abs(500 * Math.sin((x - X) / 1200) - (y - Y))).toBeLessThan(9 * unit);
          }
      expect(vertices).toBeGreaterThan(10);
      expect(vertices).toBeLessThan(coords.length / 4);
    }
    expect(await featuresAt(archive, 6)).toEqual([]);
  });

  it("share edges with themselves: rings stay closed when thinned", () => {
    const ring = Int32Array.from(
      Array.from({ length: 101 }, (_, i) => [
        Math.round(1000 * Math.cos((i % 100) / 15.9155)),
        Math.round(1000 * Math.sin((i % 100) / 15.9155)),
      ]).flat(),
    );
    const thin = simplify(ring, 20);
    expect(thin.length).toBeLessThan(ring.length / 2);
    expect([thin[0], thin[1]]).toEqual([thin.at(-2), thin.at(-1)]);
    expect(simplify(ring, 5000)).toHaveLength(0);
  });
});

describe("points in tiles", () => {
  it("go into the one tile they lie in", async () => {
    const at = (x: number, y: number): TileFeature => ({
      role: "peak",
      type: POINT,
      parts: [Int32Array.of(x, y)],
      attributes: {},
      minZoom: 0,
    });
    const found = await featuresAt(await tilesOf([at(X + EXTENT - 1, Y + 5), at(X + EXTENT, Y + 5)]), MAX);
    expect(
      found.map(({ tile, feature }) => [tile, feature.loadGeometry()[0]!.map((p) => [p.x, p.y])]),
    ).toEqual([
      [[MAX, 500, 400], [[4095, 5]]],
      [[MAX, 501, 400], [[0, 5]]],
    ]);
  });
});

describe("areas in tiles", () => {
  /** Area of a feature within its tile proper, by counting unit squares along a coarse raster. */
  const covered = ({ feature }: Found, step: number): number => {
    const rings = feature.loadGeometry();
    let n = 0;
    for (let y = step / 2; y < EXTENT; y += step)
      for (let x = step / 2; x < EXTENT; x += step) {
        let inside = false;
        for (const ring of rings)
          ring.forEach((p, i) => {
            const q = ring[(i + 1) % ring.length]!;
            if (p.y > y !== q.y > y && x < p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x)) inside = !inside;
          });
        if (inside) n++;
      }
    return n * step * step;
  };

  it("cover what they covered, holes and all, wound as MVT 2.1 says", async () => {
    // A comb: a bar with three teeth that reach into the tile below, and a hole across a tile edge.
    const comb = [
      0, 0, 9000, 0, 9000, 6000, 7000, 6000, 7000, 2000, 5500, 2000, 5500, 6000, 3000, 6000, 3000, 2000, 1500,
      2000, 1500, 6000, 0, 6000, 0, 0,
    ];
    const hole = [3600, 600, 4700, 600, 4700, 1500, 3600, 1500, 3600, 600];
    const shift = (ring: number[]): number[] => ring.map((v, i) => v + (i % 2 ? Y + 500 : X + 700));
    const found = await featuresAt(await tilesOf([area(shift(comb), shift(hole))]), MAX);
    expect(found.length).toBe(6);
    let sum = 0;
    for (const item of found) {
      sum += covered(item, 16);
      const rings = item.feature.loadGeometry();
      const areas = rings.map((ring) => twiceArea(Int32Array.from(ring.flatMap((p) => [p.x, p.y]))));
      // MVT 2.1 §4.3.3.3: first an exterior ring of positive area, holes after it of negative area.
      expect(areas[0]).toBeGreaterThan(0);
      const polygons = classifyRings(rings);
      expect(polygons.reduce((n, polygon) => n + polygon.length, 0)).toBe(rings.length);
      for (const ring of rings)
        for (const p of ring) {
          expect(p.x).toBeGreaterThanOrEqual(-65);
          expect(p.x).toBeLessThanOrEqual(EXTENT + 65);
        }
    }
    // By hand: bar 9000 · 2000, teeth 1500 · 4000, 2500 · 4000 and 2000 · 4000, less the hole 1100 · 900.
    expect(sum / (18e6 + 6e6 + 10e6 + 8e6 - 0.99e6)).toBeCloseTo(1, 2);
  });

  it("split into pieces where a box cuts them apart", () => {
    // A U whose base lies above the box: two legs inside.
    const u = wound([
      Int32Array.of(0, -50, 100, -50, 100, 80, 70, 80, 70, -20, 30, -20, 30, 80, 0, 80, 0, -50),
    ]);
    const pieces = clipArea(u, { x0: -10, y0: 0, x1: 110, y1: 60 });
    expect(pieces).toHaveLength(2);
    const areas = pieces.map(([outer]) => twiceArea(outer!) / 2).sort((a, b) => a - b);
    // 30 wide, 60 high, and half a unit more at top and bottom before rounding.
    for (const a of areas) expect(Math.abs(a - 30 * 60)).toBeLessThanOrEqual(30 * 1.01);
  });

  it("fill a box that lies inside them, and nothing in their holes", () => {
    const rings = wound([
      Int32Array.of(0, 0, 1000, 0, 1000, 1000, 0, 1000, 0, 0),
      Int32Array.of(400, 400, 600, 400, 600, 600, 400, 600, 400, 400),
    ]);
    expect(clipArea(rings, { x0: 100, y0: 100, x1: 200, y1: 200 })).toHaveLength(1);
    expect(clipArea(rings, { x0: 450, y0: 450, x1: 550, y1: 550 })).toEqual([]);
    expect(clipArea(rings, { x0: 2000, y0: 0, x1: 2100, y1: 100 })).toEqual([]);
    const whole = clipArea(rings, { x0: 300, y0: 300, x1: 700, y1: 700 });
    expect(whole.map((polygon) => polygon.length)).toEqual([2]);
  });

  it("agree with a raster on many random stars cut by many boxes", () => {
    let seed = 7;
    const random = (): number => (seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0) / 2 ** 32;
    for (let round = 0; round < 60; round++) {
      const corners = 5 + Math.floor(random() * 20);
      const star: number[] = [];
      for (let i = 0; i < corners; i++) {
        const [a, r] = [(2 * Math.PI * i) / corners, 200 + random() * 800];
        star.push(Math.round(1000 + r * Math.cos(a)), Math.round(1000 + r * Math.sin(a)));
      }
      star.push(star[0]!, star[1]!);
      const rings = wound([Int32Array.from(star)]);
      const [x0, y0] = [Math.floor(random() * 1500), Math.floor(random() * 1500)];
      const box = {
        x0,
        y0,
        x1: x0 + 100 + Math.floor(random() * 900),
        y1: y0 + 100 + Math.floor(random() * 900),
      };
      const pieces = clipArea(rings, box);
      const inside = (list: readonly Int32Array[], x: number, y: number): boolean => {
        let odd = false;
        for (const ring of list)
          for (let i = 0; i + 3 < ring.length; i += 2)
            if (
              ring[i + 1]! > y !== ring[i + 3]! > y &&
              x < ring[i]! + ((y - ring[i + 1]!) / (ring[i + 3]! - ring[i + 1]!)) * (ring[i + 2]! - ring[i]!)
            )
              odd = !odd;
        return odd;
      };
      let wrong = 0;
      let all = 0;
      for (let y = box.y0 + 3.3; y < box.y1; y += 17)
        for (let x = box.x0 + 2.7; x < box.x1; x += 17) {
          all++;
          if (inside(rings, x, y) !== inside(pieces.flat(), x, y)) wrong++;
        }
      // Rounding the cuts to whole units moves edges by under a unit.
      expect(wrong, `round ${round}`).toBeLessThanOrEqual(Math.ceil(all * 0.005));
      for (const [outer] of pieces) expect(twiceArea(outer!)).toBeGreaterThan(0);
    }
  });
});
