/** Dead reckoning against closed forms, and against walkers simulated step by step. */
import { describe, expect, it } from "vitest";
import {
  deadReckon,
  type ReckonedLeg,
  type ReckoningSettings,
  USUAL_RECKONING,
} from "../../../core/fix/dead-reckoning.ts";
import { CHI_SQUARE_95, squaredDeviations } from "../../../core/fix/ellipse.ts";
import { offset } from "../../../core/fix/rays.ts";
import { usualFixSettings } from "../../../core/fix/sighting.ts";
import { declinationAt } from "../../../core/geodesy/declination.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { normalFrom } from "./support/chance.ts";

const START: LonLat = [12.3, 61.2];
const SETTINGS: ReckoningSettings = {
  ...usualFixSettings("2026-06-01"),
  spread: USUAL_RECKONING,
  pacesPer100m: 65,
};
const leg = (deg: number, metres: number): ReckonedLeg => ({ deg, north: "true", length: { metres } });
/** Setting error alone, so that the closed forms are short. */
const PLAIN = {
  startM: 0,
  steering: { settingDeg: 3, hopDeg: 0, hopM: 50 },
  paceSystematic: 0,
  paceRandom: 0.05,
};

describe("closed forms", () => {
  it("one leg: the place by the geodesic, pace error along, bearing error across", () => {
    const { end } = deadReckon(START, [leg(30, 1000)], { ...SETTINGS, spread: PLAIN });
    expect(inverse(end.at, direct(START, trueBearing(30), 1000)).distanceM).toBeLessThan(1e-6);
    const k = Math.sqrt(5.991465); // 95 % point of chi-square with two degrees of freedom
    // 1000 m · 3° = 52.360 m across, 5 % of 1000 m = 50 m along.
    expect(end.ellipse95.semiMajorM).toBeCloseTo(52.35988 * k, 2);
    expect(end.ellipse95.semiMinorM).toBeCloseTo(50 * k, 2);
    expect(end.ellipse95.bearing).toBeCloseTo(120, 6);
  });

  it("there and back: what every leg shares is undone, the rest adds up", () => {
    const there = [leg(70, 800), leg(250, 800)];
    const shared = {
      ...PLAIN,
      steering: { settingDeg: 0, hopDeg: 0, hopM: 50 },
      paceSystematic: 0.1,
      paceRandom: 0,
    };
    const whole = deadReckon(START, there, { ...SETTINGS, spread: shared });
    expect(whole.places[1]!.ellipse95.semiMajorM).toBeCloseTo(80 * Math.sqrt(5.991465), 3);
    expect(whole.end.ellipse95.semiMajorM).toBeLessThan(1e-6);
    const own = deadReckon(START, there, { ...SETTINGS, spread: PLAIN });
    expect(own.end.covariance.ee + own.end.covariance.nn).toBeCloseTo(
      2 * (52.35988 ** 2 + 50 ** 2) * 0.64,
      1,
    );
  });

  it("paces and magnetic bearings: 65 paces are 100 m, magnetic plus declination is true", () => {
    const { deg } = declinationAt(START, 0, "2026-06-01");
    const reckoned = deadReckon(START, [{ deg: 100, north: "magnetic", length: { paces: 650 } }], SETTINGS);
    expect(reckoned.legs[0]!.distanceM).toBeCloseTo(1000, 9);
    expect(reckoned.legs[0]!.bearing).toBeCloseTo(100 + deg, 9);
  });

  it("the ellipse grows all along the way", () => {
    const { places, end } = deadReckon(START, [leg(0, 1000), leg(80, 500)], SETTINGS, 100);
    expect(places).toHaveLength(1 + 10 + 5);
    expect(end).toBe(places.at(-1));
    expect(places.map(({ walkedM }) => Math.round(walkedM))).toEqual(
      Array.from({ length: 16 }, (_, i) => 100 * i),
    );
    const areas = places.map(({ ellipse95: { semiMajorM, semiMinorM } }) => semiMajorM * semiMinorM);
    areas.slice(1).forEach((area, i) => expect(area).toBeGreaterThan(areas[i]!));
  });
});

it("walkers simulated hop by hop end within the 95 % ellipse in 94 to 96 of 100 cases", () => {
  const normal = normalFrom(3);
  const legs = [leg(20, 600), leg(110, 400), leg(75, 900), leg(200, 300)];
  const settings: ReckoningSettings = { ...SETTINGS, spread: { ...USUAL_RECKONING, startM: 10 } };
  const { end } = deadReckon(START, legs, settings);
  const [endE, endN] = offset(START, end.at);
  let held = 0;
  const walkers = 4000;
  for (let w = 0; w < walkers; w++) {
    let [e, n] = [10 * normal(), 10 * normal()];
    const stride = 1 + 0.03 * normal();
    for (const { deg, length } of legs) {
      const setting = deg + 2 * normal();
      const metres = (length as { metres: number }).metres * stride * (1 + 0.04 * normal());
      // 3° anew on every hop of 50 m.
      for (let gone = 0; gone < metres; gone += 50) {
        const way = ((setting + 3 * normal()) * Math.PI) / 180;
        const hop = Math.min(50, metres - gone);
        e += hop * Math.sin(way);
        n += hop * Math.cos(way);
      }
    }
    if (squaredDeviations(end.covariance, e - endE, n - endN) < CHI_SQUARE_95) held++;
  }
  expect(held / walkers).toBeGreaterThan(0.94);
  expect(held / walkers).toBeLessThan(0.96);
});

it("a common turn of magnetic bearings swings the whole way about the start", () => {
  const magnetic = { ...leg(0, 1000), north: "magnetic" as const };
  const none = {
    startM: 0,
    steering: { settingDeg: 0, hopDeg: 0, hopM: 50 },
    paceSystematic: 0,
    paceRandom: 0,
  };
  const { end } = deadReckon(START, [magnetic, magnetic], { ...SETTINGS, spread: none, commonErrorDeg: 1 });
  // 2000 m · 1° = 34.907 m, square to the way.
  expect(end.ellipse95.semiMajorM).toBeCloseTo(34.90659 * Math.sqrt(5.991465), 2);
  expect(end.ellipse95.semiMinorM).toBeLessThan(1e-3);
});

it.each([
  ["no leg", [], {}, /no leg/],
  ["a leg without length", [leg(0, 0)], {}, /more than 0 m/],
  ["a bearing that is none", [leg(361, 10)], {}, /361° does not exist/],
  ["a pace count that cannot be", [leg(0, 10)], { pacesPer100m: 5 }, /5 paces per 100 m cannot be/],
  ["a spread below nothing", [leg(0, 10)], { spread: { ...USUAL_RECKONING, startM: -1 } }, /less than 0/],
] as const)("%s is refused with a reason", (_, legs, settings, words) => {
  expect(() => deadReckon(START, legs, { ...SETTINGS, ...settings })).toThrow(words);
});
