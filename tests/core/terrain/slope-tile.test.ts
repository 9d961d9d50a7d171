import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { meridianRadius, parallelRadius } from "../../../core/geodesy/ellipsoid.ts";
import { latToShare, lonToShare } from "../../../core/map/tile-grid.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { slopeClass, slopeInTile, slopeTile, slopeTileBox } from "../../../core/terrain/slope-tile.ts";
import { DEG } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { realGround } from "./support/real-ground.ts";

/** A model known by its formula, in metres from a place. */
function model(heightM: (east: number, north: number) => number, [lon0, lat0]: LonLat): ElevationModel {
  return {
    spacingM: () => 5,
    prepare: () => Promise.resolve(),
    isPrepared: () => true,
    at: ([lon, lat]) =>
      heightM((lon - lon0) * DEG * parallelRadius(lat0), (lat - lat0) * DEG * meridianRadius(lat0)),
  };
}

const Z = 16;
const tileAt = ([lon, lat]: LonLat) => {
  const [x, y] = [lonToShare(lon) * 2 ** Z, latToShare(lat) * 2 ** Z];
  return {
    tile: { z: Z, x: Math.floor(x), y: Math.floor(y) },
    across: x - Math.floor(x),
    down: y - Math.floor(y),
  };
};

describe("slope over a tile", () => {
  // Closed forms: a plane rising tan 33° in any direction is at 33°; a cone of 38° is at 38° but at its tip.
  it("is a plane's own everywhere", () => {
    const rise = Math.tan(33 * DEG);
    const plane = model((e, n) => rise * (0.6 * e + 0.8 * n), [10, 46]);
    const { tile } = tileAt([10, 46]);
    const { deg } = slopeTile(plane, tile);
    expect(deg.length).toBeGreaterThan(500);
    for (const one of deg) expect(one).toBeCloseTo(33, 1);
  });

  it("is a cone's own away from its tip, where it is less", () => {
    const at: LonLat = [10.0003, 46.0003];
    const cone = model((e, n) => 500 - Math.tan(38 * DEG) * Math.hypot(e, n), at);
    const { tile, across, down } = tileAt(at);
    const slopes = slopeTile(cone, tile);
    expect(slopeInTile(slopes, across, down)).toBeLessThan(38);
    let looked = 0;
    for (const [u, v] of [
      [0.05, 0.1],
      [0.9, 0.2],
      [0.5, 0.95],
      [0.02, 0.5],
    ] as const) {
      const farM = Math.hypot(u - across, v - down) * 425;
      if (farM < 60) continue;
      looked++;
      expect(slopeInTile(slopes, u, v)).toBeCloseTo(38, 1);
    }
    expect(looked).toBeGreaterThanOrEqual(3);
  });

  it("runs on from one tile into the next", () => {
    const hills = model((e, n) => 60 * Math.sin(e / 90) * Math.cos(n / 120), [10, 46]);
    const { tile } = tileAt([10, 46]);
    const [here, east] = [slopeTile(hills, tile), slopeTile(hills, { ...tile, x: tile.x + 1 })];
    for (const v of [0, 0.13, 0.5, 0.77, 1])
      expect(slopeInTile(here, 1, v)).toBeCloseTo(slopeInTile(east, 0, v), 4);
  });

  it("is not known beside a void", () => {
    const hole = model((e) => (e > 0 ? Number.NaN : 0), [10, 46]);
    const { tile, across, down } = tileAt([10, 46]);
    const slopes = slopeTile(hole, tile);
    expect(slopeInTile(slopes, Math.min(1, across + 0.1), down)).toBeNaN();
    expect(slopeClass(Number.NaN)).toBe(0);
  });

  it("has places no closer than half the model's own samples, and a lattice however far or near one looks", () => {
    const flat = model(() => 0, [10, 46]);
    for (const z of [4, 10, 14, 18]) {
      const tile = {
        z,
        x: Math.floor(lonToShare(10) * 2 ** z),
        y: Math.floor(latToShare(46) * 2 ** z),
      };
      const { cells, deg } = slopeTile(flat, tile);
      expect(deg.length).toBe((cells + 1) ** 2);
      expect(cells).toBeLessThanOrEqual(64);
      expect(cells).toBeGreaterThanOrEqual(8);
    }
  });
});

it("of the real model is gdaldem's within half a degree for 95 % of cells", async () => {
  // gdaldem slope, GDAL 3.6.2, at samples of the model: see tests/fixtures/terrain/README.md.
  const gdaldem = JSON.parse(
    readFileSync(new URL("../../fixtures/terrain/slopes-bigtujunga.json", import.meta.url)).toString(),
  ) as (readonly [lon: number, lat: number, deg: number, aspectDeg: number])[];
  const { elevation } = await realGround("bigtujunga", 20);
  const off: number[] = [];
  const classes: boolean[] = [];
  for (const [lon, lat, deg] of gdaldem.slice(0, 300)) {
    const { tile, across, down } = tileAt([lon, lat]);
    await elevation!.prepare(slopeTileBox(tile));
    const found = slopeInTile(slopeTile(elevation!, tile), across, down);
    if (Number.isNaN(found)) continue;
    off.push(Math.abs(found - deg));
    classes.push(slopeClass(found) === slopeClass(deg));
  }
  expect(off.length).toBeGreaterThan(200);
  expect(off.filter((one) => one <= 0.5).length / off.length).toBeGreaterThanOrEqual(0.95);
  expect(classes.filter(Boolean).length / classes.length).toBeGreaterThanOrEqual(0.95);
}, 120_000);

it("classes begin at their thresholds", () => {
  expect([0, 14.99, 15, 19.9, 20, 25, 30, 35, 39.9, 40, 89].map(slopeClass)).toEqual([
    0, 0, 1, 1, 2, 3, 4, 5, 5, 6, 6,
  ]);
});
