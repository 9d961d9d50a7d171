import { beforeAll, describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import type { Kind } from "../../../core/map/kinds.ts";
import { betweenContours, errorsAt } from "../../../core/terrain/contour-error.ts";
import { contourProfile } from "../../../core/terrain/contour-profile.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { type Bbox, bboxOf, growBbox } from "../../../core/units/position.ts";
import { gdalLegs, realGround } from "./support/real-ground.ts";

describe("how far a height from contours may be off", () => {
  it("is nothing at a contour and half the difference in the middle between two", () => {
    expect([0, 0.5, 1].map((share) => betweenContours(20, share))).toEqual([0, 10, 0]);
    for (let share = 0; share < 0.5; share += 0.05) {
      expect(betweenContours(20, share)).toBeCloseTo(betweenContours(20, 1 - share), 9);
      // Beside a contour the ground may at least lie level.
      expect(betweenContours(20, share)).toBeGreaterThanOrEqual(20 * share);
    }
  });
  it("goes evenly from knot to knot where no second contour holds it", () => {
    const knots = [
      { atM: 0, heightM: 100, errorM: 0 },
      { atM: 100, heightM: 110, errorM: 0 },
      { atM: 200, heightM: 115, errorM: 8 },
    ];
    expect(errorsAt(knots, [-5, 0, 50, 100, 150, 175, 200, 300])).toEqual([0, 0, 5, 0, 4, 6, 8, 8]);
    expect(errorsAt([knots[2]!], [0, 200])).toEqual([8, 8]);
  });
});

interface Compared {
  readonly offM: number;
  readonly errorM: number;
}
const covered = (of: readonly Compared[]): number => of.filter((c) => c.offM <= c.errorM).length / of.length;
const within = (of: readonly Compared[], m: number): number =>
  of.filter((c) => c.offM <= m).length / of.length;

// Bilinear heights of the models by GDAL, see tests/fixtures/terrain/README.md; contours by our own map making.
for (const [name, intervalM] of [
  ["bigtujunga", 20],
  ["jacksboro", 20],
] as const)
  describe(`the real model ${name} with contours every ${intervalM} m`, () => {
    const { stepM, legs } = gdalLegs(name);
    let ground: Ground;
    const onLegs: Compared[] = [];
    const atPlaces: Compared[] = [];
    let asked = 0;
    beforeAll(async () => {
      ground = { ...(await realGround(name, intervalM)), elevation: null };
      for (const [k, leg] of legs.entries()) {
        await prepareGround(ground, growBbox(bboxOf([leg.from, leg.to]) as Bbox, 100));
        const frame = legFrame(leg.from, leg.to);
        const { distanceM, elevationM, errorsM } = contourProfile(ground.map, frame);
        const last = distanceM.length - 1;
        let j = 0;
        leg.heights.forEach((h, i) => {
          const d = Math.min(i * stepM, distanceM[last]!);
          while (j < last - 1 && distanceM[j + 1]! <= d) j++;
          const f = (d - distanceM[j]!) / (distanceM[j + 1]! - distanceM[j]!);
          const between = (of: Float64Array): number => of[j]! + f * (of[j + 1]! - of[j]!);
          if (!Number.isNaN(between(elevationM)))
            onLegs.push({ offM: Math.abs(between(elevationM) - h), errorM: between(errorsM!) });
        });
        // Twenty places of each leg, spread evenly and begun differently: 2,000 with no leg of their own.
        for (let q = 0; q < 20; q++) {
          const i = Math.floor(((q * 0.618034 + k * 0.37) % 1) * leg.heights.length);
          const place = frame.toLonLat(i * stepM, 0);
          const p = contourProfile(ground.map, legFrame(place, place));
          asked++;
          if (!Number.isNaN(p.elevationM[0]))
            atPlaces.push({ offM: Math.abs(p.elevationM[0]! - leg.heights[i]!), errorM: p.errorsM![0]! });
        }
      }
    }, 240_000);

    it("is known nearly everywhere, 90 % within half an interval and 99 % within one", () => {
      expect(asked).toBe(2000);
      expect(atPlaces.length).toBeGreaterThan(1990);
      expect(onLegs.length).toBeGreaterThan(5000);
      for (const all of [onLegs, atPlaces]) {
        expect(within(all, intervalM / 2)).toBeGreaterThanOrEqual(0.9);
        expect(within(all, intervalM)).toBeGreaterThanOrEqual(0.99);
      }
    });

    it("lies within the error stated with each height nine times in ten, and that error says something", () => {
      for (const all of [onLegs, atPlaces]) {
        expect(covered(all)).toBeGreaterThanOrEqual(0.9);
        expect(Math.max(...all.map((c) => c.errorM))).toBeLessThanOrEqual(intervalM);
        // Half an interval everywhere would cover more; heights stated to be good to a quarter must be, too.
        const good = all.filter((c) => c.errorM < intervalM / 4);
        expect(good.length).toBeGreaterThan(0.1 * all.length);
        expect(within(good, intervalM / 4)).toBeGreaterThanOrEqual(0.93);
      }
    });

    it("is farther off where more is stated: the worst tenth beside contours, and away from them", () => {
      const worst = (of: readonly Compared[]): number =>
        of.map((c) => c.offM).toSorted((a, b) => a - b)[Math.floor(of.length * 0.9)]!;
      const beside = onLegs.filter((c) => c.errorM < 0.15 * intervalM);
      const away = onLegs.filter((c) => c.errorM >= 0.15 * intervalM);
      expect(beside.length).toBeGreaterThan(300);
      expect(worst(beside)).toBeLessThan(0.7 * worst(away));
    });

    it("has the height of a spot height or peak there, for certain", async () => {
      const box = bboxOf(legs.flatMap((leg) => [leg.from, leg.to])) as Bbox;
      await prepareGround(ground, box);
      const points = ground.map.points(box, new Set<Kind>(["spotHeight", "peak"]));
      expect(points.length).toBeGreaterThan(3);
      let compared = 0;
      for (const { lonLat, elevationM } of points) {
        // On a contour's own level it tells nothing new.
        if (elevationM % intervalM === 0) continue;
        const p = contourProfile(ground.map, legFrame(lonLat, lonLat));
        if (Number.isNaN(p.elevationM[0])) continue;
        compared++;
        expect(p.elevationM[0]).toBeCloseTo(elevationM, 6);
        expect(p.errorsM![0]).toBe(0);
      }
      expect(compared).toBeGreaterThan(2);
    });
  });
