import { beforeAll, describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { bboxOf, type Bbox, growBbox } from "../../../core/units/position.ts";
import { climbOf } from "../../../core/terrain/climb.ts";
import { contourProfile } from "../../../core/terrain/contour-profile.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { profileOf } from "../../../core/terrain/leg-profile.ts";
import type { Profile } from "../../../core/terrain/profile.ts";
import { slopeDistanceOf, steepestStretchOf } from "../../../core/terrain/slope.ts";
import { type GdalLeg, gdalLegs, realGround } from "./support/real-ground.ts";

/** Height of a profile between its samples; NaN where either is unknown. */
function heightAt({ distanceM, elevationM }: Profile, d: number): number {
  const i = Math.max(
    1,
    distanceM.findIndex((x) => x >= d),
  );
  const [a, b] = [distanceM[i - 1]!, distanceM[i]!];
  return elevationM[i - 1]! + ((elevationM[i]! - elevationM[i - 1]!) * (d - a)) / (b - a);
}

const share = (values: readonly number[], atMost: number): number =>
  values.filter((v) => v <= atMost).length / values.length;

for (const [name, intervalM] of [
  ["bigtujunga", 20],
  ["jacksboro", 20],
] as const)
  describe(`legs over the real model ${name}`, () => {
    const { stepM, legs } = gdalLegs(name);
    let ground: Ground;
    beforeAll(async () => {
      ground = await realGround(name, intervalM);
    }, 120_000);

    const walk = async (leg: GdalLeg): Promise<ReturnType<typeof legFrame>> => {
      const frame = legFrame(leg.from, leg.to);
      expect(frame.lengthM).toBeCloseTo(leg.lengthM, 1);
      const box = growBbox(bboxOf([leg.from, leg.to]) as Bbox, 100);
      await prepareGround(ground, box);
      await prepareGround({ ...ground, elevation: null }, box);
      return frame;
    };
    const differences = async (
      profile: (frame: ReturnType<typeof legFrame>) => Profile,
    ): Promise<number[]> => {
      const all: number[] = [];
      for (const leg of legs) {
        const p = profile(await walk(leg));
        leg.heights.forEach((h, i) => all.push(Math.abs(heightAt(p, (i + 0.5) * stepM) - h)));
      }
      expect(all.length).toBeGreaterThan(500);
      return all;
    };

    it("have GDAL's bilinear heights within half a metre", async () => {
      const off = await differences((frame) => profileOf(ground, frame));
      expect(Math.max(...off)).toBeLessThan(0.5);
      // What it really is: heights are stored to 1/16 m, and the profile is straight between its samples.
      expect(share(off, 0.1)).toBeGreaterThan(0.99);
    });

    it("have, from contours alone, 90 % of heights within half an interval and 99 % within one", async () => {
      const off = await differences((frame) => contourProfile(ground.map, frame));
      expect(share(off, intervalM / 2)).toBeGreaterThan(0.9);
      expect(share(off, intervalM)).toBeGreaterThan(0.99);
    });

    it("climb as the same rule makes of GDAL's heights, within 1 %", async () => {
      let [ours, theirs, worst] = [0, 0, 0];
      for (const leg of legs) {
        // GDAL's heights begin and end half a step inside the leg.
        const p = profileOf(ground, await walk(leg));
        const inside = p.elevationM.filter(
          (_, i) => p.distanceM[i]! > stepM / 2 && p.distanceM[i]! < p.distanceM.at(-1)! - stepM / 2,
        );
        const ends = [stepM / 2, leg.lengthM - stepM / 2].map((d) => heightAt(p, d));
        const a = climbOf({ elevationM: Float64Array.of(ends[0]!, ...inside, ends[1]!) }, 2)!;
        const b = climbOf({ elevationM: Float64Array.from(leg.heights) }, 2)!;
        ours += a.climbM + a.descentM;
        theirs += b.climbM + b.descentM;
        worst = Math.max(worst, Math.abs(a.climbM - b.climbM));
      }
      expect(Math.abs(ours / theirs - 1)).toBeLessThan(0.01);
    });

    it("climb alike, within 2 %, when sampling is doubled", async () => {
      for (const leg of legs) {
        const frame = await walk(leg);
        const p = profileOf(ground, frame);
        const doubled = Array.from(p.distanceM).flatMap((d, i) => [
          ...(i > 0 ? [ground.elevation!.at(frame.toLonLat((d + p.distanceM[i - 1]!) / 2, 0))] : []),
          p.elevationM[i]!,
        ]);
        const [a, b] = [climbOf(p, 2)!, climbOf({ elevationM: Float64Array.from(doubled) }, 2)!];
        expect(b.climbM + b.descentM).toBeGreaterThan(0);
        expect(Math.abs((a.climbM + a.descentM) / (b.climbM + b.descentM) - 1)).toBeLessThan(0.02);
      }
    });

    it("lose nothing of the surface between their samples: every half metre is within 0.2 m of them", async () => {
      for (const leg of legs.slice(0, 12)) {
        const frame = await walk(leg);
        const p = profileOf(ground, frame);
        for (let d = 0; d < frame.lengthM; d += 0.5)
          expect(Math.abs(heightAt(p, d) - ground.elevation!.at(frame.toLonLat(d, 0)))).toBeLessThan(0.2);
      }
    });

    it("walked the other way turn climb into descent and keep their length", async () => {
      for (const leg of legs) {
        const there = profileOf(ground, await walk(leg));
        const back = profileOf(ground, legFrame(leg.to, leg.from));
        expect(climbOf(back, 2)!.climbM).toBeCloseTo(climbOf(there, 2)!.descentM, 2);
        expect(climbOf(back, 2)!.descentM).toBeCloseTo(climbOf(there, 2)!.climbM, 2);
        expect(slopeDistanceOf(back)).toBeCloseTo(slopeDistanceOf(there)!, 2);
        expect(steepestStretchOf(back)!.deg).toBeCloseTo(steepestStretchOf(there)!.deg, 2);
      }
    });

    it("say where their heights come from and how far they may be off", async () => {
      const frame = await walk(legs[0]!);
      expect(profileOf(ground, frame)).toMatchObject({ from: "terrain", errorM: null, blind: [] });
      const alone = profileOf({ map: ground.map, elevation: null }, frame);
      expect(alone).toMatchObject({ from: "contours", errorM: intervalM / 2, blind: [] });
      for (const p of [profileOf(ground, frame), alone]) {
        expect(p.distanceM[0]).toBe(0);
        expect(p.distanceM.at(-1)).toBe(frame.lengthM);
        expect(p.distanceM.every((d, i) => i === 0 || d > p.distanceM[i - 1]!)).toBe(true);
      }
    });
  });
