/**
 * Steep ground in the drift cone of 60 legs over a real model against gdaldem's slopes cut to the cone by GEOS:
 * tests/fixtures/legs/steep-truth.json. Both look at samples 30 m apart, each on a lattice of its own.
 */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { zoneAreaM2, zoneOf } from "../../../core/legs/aids/hazards-zone.ts";
import { type SteepFinding, steepGround } from "../../../core/legs/aids/steep-ground.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { prepareGround } from "../../../core/terrain/ground.ts";
import { realGround } from "../terrain/support/real-ground.ts";

interface Truth {
  readonly from: LonLat;
  readonly to: LonLat;
  /** Shares of the cone of 30 to 35°, 35 to 40° and more. */
  readonly shares: readonly [number, number, number];
  readonly fromM: number | null;
  readonly toM: number | null;
}
const truths = JSON.parse(
  readFileSync(new URL("../../fixtures/legs/steep-truth.json", import.meta.url), "utf8"),
) as Truth[];
const SAMPLE_M = 30;

describe("steep ground over a real model", () => {
  const legs: { truth: Truth; finding: SteepFinding; shares: number[]; fromM: number; toM: number }[] = [];
  beforeAll(async () => {
    const ground = await realGround("bigtujunga", 20);
    const { elevation } = ground;
    if (!elevation) throw new Error("The map made has no terrain.");
    await prepareGround(ground, [-118.21, 34.3, -118.12, 34.37]);
    for (const truth of truths) {
      const frame = legFrame(truth.from, truth.to);
      const zone = zoneOf(frame, 6, 100);
      const finding = steepGround(frame, elevation, zone, [30, 35, 40]);
      const { stretches } = finding;
      legs.push({
        truth,
        finding,
        shares: [30, 35, 40].map(
          (deg) =>
            stretches
              .filter(({ fromDeg }) => fromDeg === deg)
              .reduce((sum, { share, fromM, toM }) => sum + share * zoneAreaM2(zone, fromM, toM), 0) /
            zoneAreaM2(zone, 0, zone.toS),
        ),
        fromM: Math.min(...stretches.map(({ fromM }) => fromM)),
        toM: Math.max(...stretches.map(({ toM }) => toM)),
      });
    }
  }, 120_000);

  test("is looked for as closely as the model's own samples lie", () => {
    for (const { finding } of legs) {
      expect(finding.stepM).toBeLessThanOrEqual(SAMPLE_M);
      expect(finding.stepM).toBeGreaterThan(SAMPLE_M * 0.9);
      expect(finding.unknownShare).toBe(0);
    }
  });

  test("covers as much of the cone", () => {
    const off = legs
      .flatMap(({ truth, shares }) => shares.map((share, k) => Math.abs(share - (truth.shares[k] as number))))
      .toSorted((a, b) => a - b);
    expect(off[Math.floor(0.5 * off.length)]).toBeLessThan(0.01);
    expect(off[Math.floor(0.95 * off.length)]).toBeLessThan(0.04);
    // Over all legs together no class is told too seldom or too often.
    for (let k = 0; k < 3; k++) {
      const sum = (of: (leg: (typeof legs)[number]) => number): number =>
        legs.reduce((total, leg) => total + of(leg), 0);
      const wanted = sum(({ truth }) => truth.shares[k] as number);
      // There is little of the steepest here: some forty samples, of which a few decide.
      expect(wanted).toBeGreaterThan(k === 2 ? 0.3 : 1);
      expect(Math.abs(sum(({ shares }) => shares[k] as number) / wanted - 1)).toBeLessThan(
        k === 2 ? 0.15 : 0.05,
      );
    }
  });

  test("begins and ends where GDAL's does, within a sample and a half", () => {
    const both = legs.filter(({ truth, fromM }) => truth.fromM !== null && fromM < Infinity);
    expect(both.length).toBeGreaterThan(40);
    const off = both
      .flatMap(({ truth, fromM, toM }) => [
        Math.abs(fromM - (truth.fromM as number)),
        Math.abs(toM - (truth.toM as number)),
      ])
      .toSorted((a, b) => a - b);
    expect(off[Math.floor(0.9 * off.length)]).toBeLessThan(1.5 * SAMPLE_M);
  });
});
