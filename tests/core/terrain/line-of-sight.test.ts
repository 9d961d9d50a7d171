import { readFileSync } from "node:fs";
import proj4 from "proj4";
import { beforeAll, describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { inverse } from "../../../core/geodesy/geodesic.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { placesInView, sightBetween } from "../../../core/terrain/in-view.ts";
import { dropM, sightAlong } from "../../../core/terrain/line-of-sight.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { modelOf, realGround } from "./support/real-ground.ts";

/** gdal_viewshed's answers, see tests/fixtures/terrain/README.md. */
interface GdalSight {
  readonly observerM: number;
  readonly targetM: number;
  readonly observers: readonly {
    readonly from: LonLat;
    readonly targets: readonly (readonly [lon: number, lat: number, seen: 0 | 1, needM: number])[];
  }[];
}
const gdal = JSON.parse(
  readFileSync(new URL("../../fixtures/terrain/sight.json", import.meta.url)).toString(),
) as GdalSight;

/** Heights at even distances. */
const profile = (
  stepM: number,
  elevationM: readonly number[],
): { distanceM: Float64Array; elevationM: Float64Array; errorM: number | null } => ({
  distanceM: Float64Array.from(elevationM, (_, i) => i * stepM),
  elevationM: Float64Array.from(elevationM),
  errorM: null,
});

describe("curvature and refraction", () => {
  // Closed form: over a level sea an eye at h sees the water as far as √(2Rh / (1 − k)), and a mast of height m beyond
  // it as far as that and √(2Rm / (1 − k)) more.
  const horizon = (h: number, k: number): number => Math.sqrt((2 * 6_378_137 * h) / (1 - k));
  const sea = profile(
    1,
    Array.from({ length: 16_000 }, () => 0),
  );

  it.each([1 / 7, 0.13, 0])("let an eye see over the sea as far as its horizon, k = %s", (refraction) => {
    const sight = sightAlong(sea, { eyeM: 5, targetM: 0, refraction });
    expect(sight.visibleToM).toBeGreaterThan(horizon(5, refraction) - 60);
    expect(sight.visibleToM).toBeLessThan(horizon(5, refraction) + 60);
    const mast = sightAlong(sea, { eyeM: 5, targetM: 2, refraction });
    expect(mast.visibleToM! / (horizon(5, refraction) + horizon(2, refraction))).toBeCloseTo(1, 2);
    const needM = ((15_999 - horizon(5, refraction)) ** 2 * (1 - refraction)) / (2 * 6_378_137);
    expect(sight.needM).toBeCloseTo(needM, 2);
  });

  it("drop the ground by 6.7 cm in a kilometre", () => {
    // Surveyors' rule: curvature and refraction together 0.0675 K² metres (general surveying textbooks, from memory).
    expect(dropM(1000)).toBeCloseTo(0.0675, 3);
    expect(dropM(10_000)).toBeCloseTo(6.75, 1);
  });
});

describe("sight along a profile", () => {
  it("ends behind a rise and goes on beyond it", () => {
    // Eye at 2 m; a wall of 10 m at 50 m; the line over it rises 8 m in 50 m: at 100 m it is 18 m high.
    const sight = sightAlong(profile(10, [0, 0, 0, 0, 0, 10, 0, 0, 0, 0, 0, 30, 0]), {
      eyeM: 2,
      targetM: 0,
    });
    expect(sight).toMatchObject({ targetVisible: false, visibleToM: 50, farthestM: 110, hiddenByM: 110 });
    expect(sight.needM).toBeCloseTo(2 + (28 * 120) / 110, 1);
    // A wall of 10 m at 30 m: the line over it is at 2 + 8 · 40 / 30 = 12.67 m at 40 m.
    const wall = profile(10, [0, 0, 0, 10, 0]);
    expect(sightAlong(wall, { eyeM: 2, targetM: 12.7 })).toMatchObject({
      targetVisible: true,
      hiddenByM: null,
    });
    expect(sightAlong(wall, { eyeM: 2, targetM: 12.6 })).toMatchObject({
      targetVisible: false,
      hiddenByM: 30,
    });
  });

  it("is not known where heights are missing, nor from contours that are too uncertain", () => {
    const gap = sightAlong(profile(10, [0, Number.NaN, 0]));
    expect(gap).toMatchObject({ targetVisible: null, visibleToM: null, needM: null });
    expect(gap.reason).toContain("missing");
    const unsure = sightAlong({ ...profile(10, [0, 4, 0]), errorM: 5 });
    expect(unsure.targetVisible).toBeNull();
    expect(unsure.reason).toContain("contours");
    expect(sightAlong({ ...profile(10, [0, 40, 0]), errorM: 5 }).targetVisible).toBe(false);
    expect(sightAlong(profile(10, [])).targetVisible).toBeNull();
    // By similar triangles: an edge 10 m off that stands 1 m over the eye hides 100 m off everything up to 10 m over it,
    // but an error of 0.2 m of the eye and of the edge moves that by 9 · 0.2 + 10 · 0.2 m, and of the target by 0.2 m: 4 m.
    const edge = (h: number, errorsM: number) => ({
      ...profile(10, [0, h, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
      errorM: 5,
      errorsM: new Float64Array(11).fill(errorsM),
    });
    // Need: 1.6 + 10 (h − 1.6).
    expect(sightAlong(edge(2.1, 0.2)).targetVisible).toBe(false);
    expect(sightAlong(edge(1.9, 0.2)).targetVisible).toBeNull();
    expect(sightAlong(edge(1.9, 0.1)).targetVisible).toBe(false);
    expect(sightAlong(edge(1.1, 0.2)).targetVisible).toBe(true);
    expect(sightAlong(edge(1.3, 0.2)).targetVisible).toBeNull();
    // Where errors are not told one by one the profile's holds.
    expect(sightAlong({ ...edge(2.1, 0), errorsM: null }).targetVisible).toBeNull();
  });

  it("refuses heights that make no sense", () => {
    for (const settings of [{ eyeM: -1 }, { targetM: Number.NaN }, { refraction: 1 }])
      expect(() => sightAlong(profile(10, [0, 0]), settings)).toThrow(Fault);
  });
});

describe("sight over a real model", () => {
  let ground: Ground;
  beforeAll(async () => {
    ground = await realGround("bigtujunga", 20);
    await prepareGround(ground, [-118.21, 34.3, -118.12, 34.37]);
  }, 120_000);

  it("is gdal_viewshed's in 99 % of 2,000 pairs away from the horizon's edge", () => {
    let [same, all, seenToo] = [0, 0, 0];
    for (const { from, targets } of gdal.observers)
      for (const [lon, lat, seen] of targets) {
        const sight = sightBetween(ground, from, [lon, lat], { eyeM: gdal.observerM, targetM: gdal.targetM });
        all++;
        if (sight.targetVisible === (seen === 1)) same++;
        if (sight.targetVisible && seen) seenToo++;
      }
    expect(all).toBe(2000);
    expect(seenToo).toBeGreaterThan(500);
    expect(same / all).toBeGreaterThanOrEqual(0.99);
  });

  it("along rows, columns and diagonals of the model is what its samples say, worked out without interpolation", async () => {
    const model = await modelOf("bigtujunga");
    const { columns, rows, heights, origin, step } = model;
    const utm = proj4("+proj=utm +zone=11 +datum=WGS84 +units=m", "EPSG:4326");
    const lonLat = (c: number, r: number): LonLat => {
      const [lon, lat] = utm.forward<[number, number]>([origin[0] + c * step[0], origin[1] + r * step[1]]);
      return [lon, lat];
    };
    let seed = 90_001;
    const pick = (below: number): number => (seed = (seed * 48271) % 2147483647) % below;
    const ways = [-1, 0, 1]
      .flatMap((dr) => [-1, 0, 1].map((dc) => [dc, dr] as const))
      .filter(([c, r]) => c || r);
    let [same, seen, all] = [0, 0, 0];
    for (let k = 0; k < 60; k++) {
      const [c0, r0] = [1 + pick(columns - 2), 1 + pick(rows - 2)];
      const eye = heights[r0 * columns + c0]! + 2;
      for (const [dc, dr] of ways) {
        // What the model's own samples on the way hide, by plain similar triangles.
        let highest = -Infinity;
        for (let i = 1; ; i++) {
          const [c, r] = [c0 + dc * i, r0 + dr * i];
          if (c < 1 || r < 1 || c > columns - 2 || r > rows - 2) break;
          const d = 30 * i * Math.hypot(dc, dr);
          const rise = heights[r * columns + c]! - ((6 / 7) * d * d) / (2 * 6_378_137) - eye;
          const need = highest * d - rise;
          highest = Math.max(highest, rise / d);
          // Away from the edge by 5 m either way; a part of the many.
          if (Math.abs(need - 2) < 5 || pick(24) > 0) continue;
          const sight = sightBetween(ground, lonLat(c0, r0), lonLat(c, r), { eyeM: 2, targetM: 2 });
          all++;
          if (need < 2) seen++;
          if (sight.targetVisible === need < 2) same++;
        }
      }
    }
    expect(all).toBeGreaterThan(1500);
    expect(seen).toBeGreaterThan(150);
    expect(same / all).toBeGreaterThanOrEqual(0.995);
  });

  it("is the same both ways between eyes of one height", () => {
    for (const { from, targets } of gdal.observers.slice(0, 40))
      for (const [lon, lat] of targets.slice(0, 5)) {
        const there = sightBetween(ground, from, [lon, lat]);
        const back = sightBetween(ground, [lon, lat], from);
        if (Math.abs(there.needM! - 1.6) > 0.5) expect(back.targetVisible).toBe(there.targetVisible);
      }
  });

  it("lists named places with their true bearings, those in view first", () => {
    const { from, targets } = gdal.observers.find((o) => o.targets.some((t) => t[2] === 1))!;
    const places = targets.map(([lon, lat], i) => ({ name: `P${i}`, lonLat: [lon, lat] as const }));
    const found = placesInView(ground, from, places, { eyeM: 2, targetM: 2 });
    expect(found.length).toBeGreaterThan(10);
    const order = found.map((f) => f.sight.targetVisible);
    expect(order.indexOf(false)).toBeGreaterThan(order.lastIndexOf(true));
    for (const { place, bearing, distanceM, upDeg } of found) {
      expect(bearing).toBe(inverse(from, place.lonLat).bearing);
      const rise = ground.elevation!.at(place.lonLat) - ground.elevation!.at(from) - dropM(distanceM);
      expect(Math.tan((upDeg! * Math.PI) / 180) * distanceM).toBeCloseTo(rise, 1);
    }
    expect(placesInView(ground, from, places, { toM: 1 })).toEqual([]);
  });

  it("is not known where the model ends", () => {
    const sight = sightBetween(ground, gdal.observers[0]!.from, [-117.9, 34.3]);
    expect(sight.targetVisible).toBeNull();
    expect(sight.reason).toContain("missing");
  });
});
