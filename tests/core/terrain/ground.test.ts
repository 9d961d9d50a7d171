import { beforeAll, describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { crossingsOf } from "../../../core/map/crossings.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { bytesSource } from "../../../core/map/source.ts";
import { type ElevationGrid, WGS84 } from "../../../core/mapmaking/elevation/elevation-grid.ts";
import { makeMap } from "../../../core/mapmaking/make-map.ts";
import type { MadeMap } from "../../../core/mapmaking/map-request.ts";
import { climbOf } from "../../../core/terrain/climb.ts";
import { type Ground, openGround, prepareGround } from "../../../core/terrain/ground.ts";
import { profileOf } from "../../../core/terrain/leg-profile.ts";
import { slopeDistanceOf, steepestOf } from "../../../core/terrain/slope.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../../core/units/position.ts";

/** A plane rising 3 m a row northwards, 100 by 100 samples of 1″ at 10° E, 45° N: 1″ of latitude is 30.87 m there. */
const slope: ElevationGrid = {
  key: "slope",
  columns: 100,
  rows: 100,
  heights: Float32Array.from({ length: 10_000 }, (_, i) => 500 - 3 * Math.floor(i / 100)),
  origin: [10, 45],
  step: [1 / 3600, -1 / 3600],
  crs: WGS84,
};
const SECOND_M = 30.87; // length of 1″ of the meridian at 45° N on WGS 84: 111 132 m a degree

describe("the ground of a plane", () => {
  let made: MadeMap;
  let ground: Ground;
  const about = { title: "Slope", source: null, date: null, attribution: null, datum: null, invented: true };
  beforeAll(async () => {
    made = await makeMap({ elevation: slope, interval: { value: 10, unit: "m" }, about });
    ground = await openGround(
      bytesSource("a.pmtiles", made.archive),
      bytesSource("a.terrain.pmtiles", made.terrain),
    );
  }, 60_000);

  const south: LonLat = [10.012, 44.978];
  const north: LonLat = [10.012, 44.996];
  const frame = legFrame(south, north);
  const box = growBbox(bboxOf([south, north]) as Bbox, 50);

  it("is walked straight up: height, climb, slope and distance of the plane", async () => {
    await prepareGround(ground, box);
    const p = profileOf(ground, frame);
    expect(p).toMatchObject({ from: "terrain", blind: [] });
    const rise = (44.996 - 44.978) * 3600 * 3;
    expect(p.elevationM[0]).toBeCloseTo(500 - (45 - 44.978) * 3600 * 3, 1);
    expect(climbOf(p, 1)!.climbM).toBeCloseTo(rise, 0);
    expect(climbOf(p, 1)!.descentM).toBe(0);
    expect(steepestOf(p)!).toBeCloseTo((Math.atan(3 / SECOND_M) * 180) / Math.PI, 0);
    expect(slopeDistanceOf(p)!).toBeCloseTo(Math.hypot(frame.lengthM, rise), 1);
  });

  it("has a sample on every contour crossed, at its height", async () => {
    await prepareGround(ground, box);
    const p = profileOf(ground, frame);
    const crossings = crossingsOf(frame, ground.map.lines(box, new Set<Kind>(["contour"])));
    expect(crossings.length).toBe(19); // 270, 280 … 450 lie between 262.4 and 456.8 m
    for (const c of crossings) {
      const i = p.distanceM.indexOf(c.atM);
      expect(i).toBeGreaterThanOrEqual(0);
      // A contour in tiles of zoom 14 lies within a unit, 0.4 m: on this slope 4 cm; heights are to 1/8 m.
      expect(Math.abs(p.elevationM[i]! - c.line.elevationM)).toBeLessThan(0.2);
    }
  });

  it("without terrain tiles is the same within half an interval", async () => {
    const alone = await openGround(bytesSource("a.pmtiles", made.archive), null);
    await prepareGround(alone, box);
    const p = profileOf(alone, frame);
    expect(p).toMatchObject({ from: "contours", errorM: 5, blind: [] });
    p.distanceM.forEach((d, i) =>
      expect(Math.abs(p.elevationM[i]! - (500 - (45 - 44.978) * 10_800 + (d * 3) / SECOND_M))).toBeLessThan(
        2,
      ),
    );
  });

  it("whose terrain tiles lie elsewhere falls back to contours", async () => {
    const far = { ...slope, origin: [11, 45] as const };
    const elsewhere = await makeMap({ elevation: far, interval: { value: 10, unit: "m" }, about });
    const mixed = await openGround(
      bytesSource("a.pmtiles", made.archive),
      bytesSource("b", elsewhere.terrain),
    );
    await prepareGround(mixed, box);
    expect(profileOf(mixed, frame).from).toBe("contours");
  });

  it("beyond the map is blind, and says from where to where", async () => {
    const out = legFrame([10.012, 44.99], [10.012, 45.01]);
    const wide = growBbox(bboxOf([out.from, out.to]) as Bbox, 50);
    await prepareGround(ground, wide);
    await prepareGround({ ...ground, elevation: null }, wide);
    for (const p of [profileOf(ground, out), profileOf({ ...ground, elevation: null }, out)]) {
      expect(p.blind.length).toBe(1);
      // The map ends at 45° N or half a cell beyond: half the leg.
      expect(p.blind[0]!.fromM).toBeGreaterThan(out.lengthM / 2 - 20);
      expect(p.blind[0]!.fromM).toBeLessThan(out.lengthM / 2 + 20);
      expect(p.blind[0]!.toM).toBe(out.lengthM);
      expect(climbOf(p, 1)).toBeNull();
      expect(slopeDistanceOf(p)).toBeNull();
      expect(steepestOf(p)).toBeNull();
    }
  });

  it("not prepared has no heights, and does not throw", async () => {
    const fresh = await openGround(bytesSource("a.pmtiles", made.archive), bytesSource("b", made.terrain));
    expect(profileOf(fresh, frame)).toMatchObject({ from: null, blind: [{ fromM: 0, toM: frame.lengthM }] });
  });

  it("with a damaged terrain archive names that one", async () => {
    const cut = made.terrain.subarray(0, made.terrain.length >> 1);
    await expect(
      openGround(bytesSource("a.pmtiles", made.archive), bytesSource("a.terrain.pmtiles", cut)),
    ).rejects.toMatchObject({
      code: "bad-archive",
      where: "a.terrain.pmtiles",
    });
  });
});
