/**
 * Over real ground (the sample map, read from its archives), through everything a person's question goes through: taking an
 * aid away from a leg's plan never raises the share who find the target by more than the noise, and the same seed gives the
 * same advice. Noise: two standard deviations of a share of 4000 even draws are 1.6 percentage points.
 */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test } from "vitest";
import { direct } from "../../../../core/geodesy/geodesic.ts";
import type { LegAdvice } from "../../../../core/legs/advice/advice.ts";
import { DEFAULT_ADVICE_SETTINGS } from "../../../../core/legs/advice/advice-settings.ts";
import { adviceOn } from "../../../../core/legs/advice/walk-advice.ts";
import type { LegFigures } from "../../../../core/legs/figures.ts";
import { legFigures } from "../../../../core/legs/leg-figures.ts";
import { DEFAULT_LEG_SETTINGS } from "../../../../core/legs/leg-settings.ts";
import type { Change } from "../../../../core/legs/odds/worth-of-aids.ts";
import { legSearchBox } from "../../../../core/legs/search-box.ts";
import { bytesSource } from "../../../../core/map/source.ts";
import { type Ground, openGround, prepareGround } from "../../../../core/terrain/ground.ts";
import { trueBearing } from "../../../../core/units/angle.ts";
import type { LonLat } from "../../../../core/units/position.ts";

const settings = { ...DEFAULT_LEG_SETTINGS, date: "2026-06-15" };
const advice = { ...DEFAULT_ADVICE_SETTINGS, walkers: 4000 };
const NOISE = 0.016;
const LEGS = 24;

const sample = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(new URL(`../../../../sample-maps/${name}`, import.meta.url)));
const open = (): Promise<Ground> =>
  openGround(
    bytesSource("uldermoor.pmtiles", sample("uldermoor.pmtiles")),
    bytesSource("uldermoor.terrain.pmtiles", sample("uldermoor.terrain.pmtiles")),
  );

/** The practice walk's own legs, and as many more at random: a linear congruential generator, the same everywhere. */
function endsOn([west, south, east, north]: readonly number[]): (readonly [LonLat, LonLat])[] {
  const { features } = JSON.parse(
    readFileSync(new URL("../../../../sample-maps/uldermoor-practice.walk.geojson", import.meta.url), "utf8"),
  ) as { features: { geometry: { type: string; coordinates: number[] } }[] };
  const points = features
    .filter(({ geometry }) => geometry.type === "Point")
    .map(({ geometry: { coordinates: c } }): LonLat => [c[0] as number, c[1] as number]);
  let state = 20260615;
  const random = (): number => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
  const within = (low = 0, high = 0): number => low + (high - low) * (0.2 + 0.6 * random());
  return [
    ...points.slice(1).map((to, i) => [points[i] as LonLat, to] as const),
    ...Array.from({ length: LEGS - points.length + 1 }, () => {
      const from: LonLat = [within(west, east), within(south, north)];
      return [from, direct(from, trueBearing(360 * random()), 300 + 900 * random())] as const;
    }),
  ];
}

describe("legs on the sample map", () => {
  const legs: { readonly leg: LegFigures; readonly advice: LegAdvice }[] = [];
  beforeAll(async () => {
    const ground = await open();
    for (const [i, [from, to]] of endsOn(ground.map.info.bounds).entries()) {
      await prepareGround(ground, legSearchBox(from, to, settings));
      const leg = legFigures(
        { n: i + 1, from: { label: "A", lonLat: from }, to: { label: "B", lonLat: to } },
        ground,
        settings,
      );
      legs.push({ leg, advice: await adviceOn(leg, ground, settings, advice) });
    }
  }, 120_000);

  const found = (change: Change): { readonly n: number; readonly plan: number; readonly changed: number }[] =>
    legs.flatMap(({ leg: { n }, advice: { odds, worth } }) =>
      worth
        .filter((one) => one.change === change)
        .map((one) => ({ n, plan: odds?.find ?? NaN, changed: one.odds.find })),
    );

  test.for(["withoutMarks", "withoutHandrail"] as const)("%s no more find the target", (change) => {
    const all = found(change);
    expect(all.length).toBeGreaterThan(5);
    for (const { n, plan, changed } of all) expect(changed, `leg ${n}`).toBeLessThan(plan + NOISE);
    expect(all.some(({ plan, changed }) => changed < plan - 0.1)).toBe(true);
  });

  test("aiming off, where it can be done, no fewer find it", () => {
    const all = found("withAimOff");
    expect(all.length).toBeGreaterThan(1);
    for (const { n, plan, changed } of all) expect(changed, `leg ${n}`).toBeGreaterThan(plan - NOISE);
  });

  test("what is proposed helps, and is not said twice", () => {
    for (const {
      advice: { odds, better },
    } of legs)
      for (const proposal of better) {
        expect(proposal.odds.find).toBeGreaterThanOrEqual((odds?.find ?? NaN) - NOISE);
        expect(better.filter(({ words }) => words === proposal.words)).toHaveLength(1);
      }
  });

  test("the same seed gives the same advice on ground read anew; another seed nearly the same odds", async () => {
    const ground = await open();
    for (const { leg, advice: first } of legs.slice(0, 3)) {
      expect(await adviceOn(leg, ground, settings, advice)).toEqual(first);
      const other = await adviceOn(leg, ground, settings, { ...advice, seed: 2 });
      expect(other.odds).not.toEqual(first.odds);
      expect(Math.abs((other.odds?.find ?? NaN) - (first.odds?.find ?? NaN))).toBeLessThan(2 * NOISE);
    }
  });
});
