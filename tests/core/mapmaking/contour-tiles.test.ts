/**
 * Contours as they come out of the tiles, at every zoom, read back with @mapbox/vector-tile. Crossings are found by
 * exact arithmetic on the tiles' whole numbers; what must be equal on both sides of a border is compared as it stands.
 */
import { beforeAll, describe, expect, it } from "vitest";
import type { PMTiles } from "pmtiles";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import { readModel } from "./elevation-fixture.ts";
import { featuresAt, type Found, openArchive } from "./read-back.ts";

const EXTENT = 4096;
const about = { title: "t", source: null, date: null, attribution: null, datum: null, invented: false };
const none = { streams: false, ridges: false, spotHeights: false, cliffs: false };

/** The model's heights, mirrored to the east, laid where tiles of zoom 10 meet. */
async function straddling(): Promise<ElevationGrid> {
  const { heights, columns, rows } = await readModel("bigtujunga-crop-srtm30m-epsg32611");
  const wide = new Float32Array(2 * columns * rows);
  for (let r = 0; r < rows; r++)
    for (let c = 0; c < 2 * columns; c++)
      wide[r * 2 * columns + c] = heights[r * columns + (c < columns ? c : 2 * columns - 1 - c)]!;
  // Tile 541 of zoom 10 begins at 541 / 1024 · 360° − 180°, in the midst of the model.
  const lon = (541 / 1024) * 360 - 180;
  return {
    key: "straddling",
    columns: 2 * columns,
    rows,
    heights: wide,
    origin: [lon - columns / 3600, 45.12],
    step: [1 / 3600, -1 / 3600],
    crs: WGS84,
  };
}

/** Positions of a feature's parts in the zoom's own units, all over the world. */
const partsOf = ({ feature, tile }: Found): number[][] =>
  feature
    .loadGeometry()
    .map((part) => part.flatMap(({ x, y }) => [tile[1] * EXTENT + x, tile[2] * EXTENT + y]));

const contoursAt = async (archive: PMTiles, zoom: number): Promise<Found[]> =>
  (await featuresAt(archive, zoom)).filter(({ layer }) => layer === "contour");

interface Side {
  readonly ele: number;
  readonly at: readonly [number, number, number, number];
}

/** Pairs of sides of different levels that cross each other between their ends. */
function crossings(found: readonly Found[]): string[] {
  const CELL = 64;
  const cells = new Map<string, Side[]>();
  for (const one of found)
    for (const part of partsOf(one))
      for (let i = 2; i < part.length; i += 2) {
        const at = [part[i - 2]!, part[i - 1]!, part[i]!, part[i + 1]!] as const;
        const side = { ele: Number(one.feature.properties["ele"]), at };
        const cell = (v: number): number => Math.floor(v / CELL);
        for (let x = cell(Math.min(at[0], at[2])); x <= cell(Math.max(at[0], at[2])); x++)
          for (let y = cell(Math.min(at[1], at[3])); y <= cell(Math.max(at[1], at[3])); y++) {
            const key = `${x} ${y}`;
            const here = cells.get(key);
            if (here) here.push(side);
            else cells.set(key, [side]);
          }
      }
  const turn = (s: Side["at"], x: number, y: number): number =>
    Math.sign((s[2] - s[0]) * (y - s[1]) - (s[3] - s[1]) * (x - s[0]));
  const met = new Set<string>();
  for (const sides of cells.values())
    for (const [k, { ele, at: p }] of sides.entries())
      for (const { ele: other, at: q } of sides.slice(k + 1))
        if (
          ele !== other &&
          turn(p, q[0], q[1]) * turn(p, q[2], q[3]) < 0 &&
          turn(q, p[0], p[1]) * turn(q, p[2], p[3]) < 0
        )
          met.add(`${ele} ${other} ${p.join(" ")} ${q.join(" ")}`);
  return [...met];
}

describe("contours of steep ground over a border of blocks", () => {
  let archive: PMTiles;
  beforeAll(async () => {
    const made = await makeMap({
      elevation: await straddling(),
      interval: { value: 10, unit: "m" },
      derive: none,
      about,
    });
    archive = openArchive(made.archive);
  }, 60_000);

  it.each([8, 9, 10, 11, 12, 13, 14])("do not cross at zoom %i", async (zoom) => {
    const found = await contoursAt(archive, zoom);
    expect(found.length).toBeGreaterThan(zoom < 10 ? 1 : 10);
    const sides = found.reduce(
      (sum, one) => sum + partsOf(one).reduce((n, part) => n + part.length / 2 - 1, 0),
      0,
    );
    const met = crossings(found);
    // Rounding to whole units of a tile can bring lines together that are less than a unit apart, as on cliffs.
    expect(met.length, met.slice(0, 3).join("\n")).toBeLessThanOrEqual(sides / 5000);
  });

  it.each([10, 12, 13, 14])("are the same on both sides of every tile edge at zoom %i", async (zoom) => {
    const byTile = new Map<string, Set<string>>();
    for (const one of await contoursAt(archive, zoom)) {
      const key = one.tile.slice(1).join(" ");
      const places = byTile.get(key) ?? new Set<string>();
      byTile.set(key, places);
      for (const part of partsOf(one))
        for (let i = 0; i < part.length; i += 2)
          places.add(`${String(one.feature.properties["ele"])} ${part[i]} ${part[i + 1]}`);
    }
    let compared = 0;
    for (const [key, places] of byTile) {
      const [x, y] = key.split(" ").map(Number) as [number, number];
      for (const [dx, dy] of [
        [1, 0],
        [0, 1],
      ] as const) {
        const others = byTile.get(`${x + dx} ${y + dy}`);
        if (!others) continue;
        // Both tiles reach 64 units over their edge; where they are cut off is left out.
        const shared = (place: string): boolean => {
          const [, px, py] = place.split(" ").map(Number) as [number, number, number];
          const across = dx ? px - (x + 1) * EXTENT : py - (y + 1) * EXTENT;
          const along = dx ? py - y * EXTENT : px - x * EXTENT;
          return Math.abs(across) < 63 && along > -63 && along < EXTENT + 63;
        };
        const mine = [...places].filter(shared).sort((a, b) => a.localeCompare(b));
        const theirs = [...others].filter(shared).sort((a, b) => a.localeCompare(b));
        expect(mine).toEqual(theirs);
        compared += mine.length;
      }
    }
    expect(compared).toBeGreaterThan(20);
  });
});

describe("a crater", () => {
  it("has its inner contours marked as around lower ground, in every tile, and no others", async () => {
    // A ring-shaped wall 300 m high and 60 cells in radius: rings of radius 60 ± d, the inner ones around lower ground.
    const n = 240;
    const radius = (i: number): number => Math.hypot((i % n) - 119.5, Math.floor(i / n) - 119.5);
    const lon = (541 / 1024) * 360 - 180;
    const { archive } = await makeMap({
      elevation: {
        key: "crater",
        columns: n,
        rows: n,
        heights: Float32Array.from({ length: n * n }, (_, i) => 1000 - 5 * Math.abs(radius(i) - 60)),
        origin: [lon - n / 7200, 45.12],
        step: [1 / 3600, -1 / 3600],
        crs: WGS84,
      },
      interval: { value: 20, unit: "m" },
      derive: none,
      about,
    });
    const centre = [lon - n / 7200 + 119.5 / 3600, 45.12 - 119.5 / 3600] as const;
    let inner = 0;
    let outer = 0;
    for (const { feature, tile } of await contoursAt(openArchive(archive), 14)) {
      const { depression } = feature.properties;
      const { geometry } = feature.toGeoJSON(tile[1], tile[2], tile[0]);
      const lines =
        geometry.type === "LineString"
          ? [geometry.coordinates]
          : geometry.type === "MultiLineString"
            ? geometry.coordinates
            : [];
      for (const [x, y] of lines.flat()) {
        const inside = Math.hypot((x! - centre[0]) * 3600, (y! - centre[1]) * 3600) < 60;
        expect(depression).toBe(inside ? true : undefined);
        if (inside) inner++;
        else outer++;
      }
    }
    expect(Math.min(inner, outer)).toBeGreaterThan(1000);
  });
});
