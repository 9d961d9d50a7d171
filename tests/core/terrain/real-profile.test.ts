import { beforeAll, describe, expect, it } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { bboxOf, type Bbox, growBbox } from "../../../core/units/position.ts";
import { climbOf, climbSoFar } from "../../../core/terrain/climb.ts";
import { contourProfile } from "../../../core/terrain/contour-profile.ts";
import { type Ground, prepareGround } from "../../../core/terrain/ground.ts";
import { profileOf } from "../../../core/terrain/leg-profile.ts";
import { sightAlong } from "../../../core/terrain/line-of-sight.ts";
import type { Profile } from "../../../core/terrain/profile.ts";
import { slopeChanges } from "../../../core/terrain/slope-changes.ts";
import { slopeClasses } from "../../../core/terrain/slope-classes.ts";
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
    /** The profile's height less GDAL's, without sign, at 0, 10, 20 … m of all hundred legs. */
    const differences = async (
      profile: (frame: ReturnType<typeof legFrame>) => Profile,
    ): Promise<number[]> => {
      const all: number[] = [];
      for (const leg of legs) {
        const p = profile(await walk(leg));
        const lengthM = p.distanceM.at(-1)!;
        leg.heights.forEach((h, i) => all.push(Math.abs(heightAt(p, Math.min(i * stepM, lengthM)) - h)));
      }
      expect(all.length).toBeGreaterThan(2000);
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
      let onEdge = 0;
      for (const leg of legs) {
        const { climbM, descentM } = climbOf(profileOf(ground, await walk(leg)), 2)!;
        for (const [ours, theirs] of [
          [climbM, leg.climbM],
          [descentM, leg.descentM],
        ] as const) {
          const off = Math.abs(ours - theirs);
          // A climb of a few metres differs by the rounding of the tiles' heights: a few centimetres at either end.
          if (off <= Math.max(0.01 * theirs, 0.12)) continue;
          // A rise or fall as large as the threshold, to that rounding, may count or not.
          expect(Math.abs(off - 2)).toBeLessThan(0.12);
          onEdge++;
        }
      }
      expect(onEdge).toBeLessThanOrEqual(2);
    });

    it("climb alike, within 2 %, when sampling is doubled, and at every place on the way", async () => {
      for (const leg of legs) {
        const frame = await walk(leg);
        const p = profileOf(ground, frame);
        const doubled = Float64Array.from(
          Array.from(p.distanceM).flatMap((d, i) => [
            ...(i > 0 ? [ground.elevation!.at(frame.toLonLat((d + p.distanceM[i - 1]!) / 2, 0))] : []),
            p.elevationM[i]!,
          ]),
        );
        const [a, b] = [climbOf(p, 2)!, climbOf({ elevationM: doubled }, 2)!];
        const sum = b.climbM + b.descentM;
        expect(Math.abs(a.climbM + a.descentM - sum)).toBeLessThanOrEqual(0.02 * sum);
        const [far, near] = [climbSoFar(p, 2)!, climbSoFar({ elevationM: doubled }, 2)!];
        p.distanceM.forEach((_, i) => {
          expect(Math.abs(far.climbM[i]! - near.climbM[2 * i]!)).toBeLessThanOrEqual(0.02 * sum);
          expect(Math.abs(far.descentM[i]! - near.descentM[2 * i]!)).toBeLessThanOrEqual(0.02 * sum);
        });
      }
    });

    it("have slope classes that tell the share of ground steeper than GDAL's heights do, within 3 % of the leg", async () => {
      for (const leg of legs) {
        const { classes, unknownM } = slopeClasses(profileOf(ground, await walk(leg)), [10, 20]);
        expect(unknownM).toBeLessThan(1e-6);
        expect(classes.reduce((sum, c) => sum + c.lengthM, 0)).toBeCloseTo(leg.lengthM, 1);
        // Stretches of 20 m: every second of GDAL's heights. A leg of an odd number of tens of metres is cut otherwise.
        if (leg.lengthM % 20 !== 0) continue;
        const counted = [0, 0, 0];
        for (let i = 2; i < leg.heights.length; i += 2) {
          const deg = (Math.atan(Math.abs(leg.heights[i]! - leg.heights[i - 2]!) / 20) * 180) / Math.PI;
          counted[deg < 10 ? 0 : deg < 20 ? 1 : 2]! += 20;
        }
        // One stretch whose slope lies on a bound may fall to either side.
        classes.forEach((c, k) =>
          expect(Math.abs(c.lengthM - counted[k]!)).toBeLessThanOrEqual(
            Math.max(20, 0.03 * leg.lengthM) + 0.1,
          ),
        );
      }
    });

    it("change their slope where GDAL's heights do", async () => {
      let changes = 0;
      for (const leg of legs) {
        const p = profileOf(ground, await walk(leg));
        for (const { atM, beforeDeg, afterDeg } of slopeChanges(p)) {
          changes++;
          // The mean slopes of GDAL's heights over the 40 m on either side, by their ends: a fit or a rounded top differ.
          const at = (d: number): number => {
            const i = Math.min(leg.heights.length - 2, Math.max(0, Math.floor(d / stepM)));
            return leg.heights[i]! + (leg.heights[i + 1]! - leg.heights[i]!) * (d / stepM - i);
          };
          const before = Math.atan((at(atM) - at(atM - 40)) / 40);
          const after = Math.atan((at(atM + 40) - at(atM)) / 40);
          expect(Math.sign(after - before)).toBe(Math.sign(afterDeg - beforeDeg));
        }
      }
      // Some, and not one every hundred metres.
      const km = legs.reduce((sum, leg) => sum + leg.lengthM, 0) / 1000;
      expect(changes / km).toBeGreaterThan(1);
      expect(changes / km).toBeLessThan(7);
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

    it("are never said to hide or show their end from contours alone when the terrain says otherwise", async () => {
      let told = 0;
      for (const leg of legs) {
        const frame = await walk(leg);
        const fromContours = sightAlong(contourProfile(ground.map, frame)).targetVisible;
        if (fromContours === null) continue;
        told++;
        expect(fromContours).toBe(sightAlong(profileOf(ground, frame)).targetVisible);
      }
      expect(told).toBeGreaterThan(30);
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
