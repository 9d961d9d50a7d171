import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { din33466TimeS } from "../../../core/travel/din33466.ts";
import { langmuirTimeS } from "../../../core/travel/langmuir.ts";
import { stretchesOf } from "../../../core/travel/stretches.ts";
import { swissMinutesPerKm, swissTimeS } from "../../../core/travel/swiss.ts";
import { toblerSpeed, toblerTimeS } from "../../../core/travel/tobler.ts";
import {
  NO_FACTORS,
  TIME_METHODS,
  type TimeMethod,
  walkingTimeS,
  withFactors,
} from "../../../core/travel/walking-time.ts";

interface Heights {
  readonly distanceM: Float64Array;
  readonly elevationM: Float64Array;
}

/** A profile through corners (distance, height), with a sample every `everyM` and at each corner. */
function profile(corners: readonly (readonly [number, number])[], everyM = 10): Heights {
  const d: number[] = [];
  const h: number[] = [];
  for (let i = 1; i < corners.length; i++) {
    const [[d0, h0], [d1, h1]] = [corners[i - 1] as [number, number], corners[i] as [number, number]];
    const steps = Math.ceil((d1 - d0) / everyM);
    for (let k = i === 1 ? 0 : 1; k <= steps; k++) {
      d.push(d0 + ((d1 - d0) * k) / steps);
      h.push(h0 + ((h1 - h0) * k) / steps);
    }
  }
  return { distanceM: Float64Array.from(d), elevationM: Float64Array.from(h) };
}

const slope = (runM: number, riseM: number): Heights =>
  profile([
    [0, 1000],
    [runM, 1000 + riseM],
  ]);
const time = (method: TimeMethod, p: Heights, climbM: number, descentM: number): number =>
  walkingTimeS(method, { distanceM: p.distanceM.at(-1) as number, climbM, descentM, profile: p }) as number;

// Source: manual of GRASS GIS r.walk (quoting Langmuir 1984); worked by hand from its coefficients, which round
// 10 min / 300 m to 1.9998 s/m: hence within 0.1 s.
test.each([
  [3000, 0, 2160],
  [1000, 150, 1620],
  [1000, -50, 720],
  [1000, -150, 420.03],
  [1000, -200, 320.04],
  [1000, -220, 1159.96],
  [1000, -300, 1319.94],
])("Langmuir: %d m with %d m of height takes %d s", (run, rise, seconds) => {
  expect(Math.abs(langmuirTimeS([{ runM: run, riseM: rise }]) - seconds)).toBeLessThan(0.1);
  expect(Math.abs(time("langmuir", slope(run, rise), 0, 0) - seconds)).toBeLessThan(0.1);
});

// Source: W. Tobler, NCGIA Technical Report 93-1 (1993): 6 exp(−3.5 |S + 0.05|) km/h, worked by hand.
test.each([
  [-0.5, 1.242045],
  [-0.3, 2.501172],
  [-0.2, 3.549332],
  [-0.1, 5.036742],
  [-0.05, 6],
  [0, 5.036742],
  [0.05, 4.228129],
  [0.1, 3.549332],
  [0.2, 2.501172],
  [0.3, 1.762546],
  [0.5, 0.875255],
])("Tobler: on a slope of %d the speed is %d km/h", (s, kmh) => {
  expect(toblerSpeed(s) * 3.6).toBeCloseTo(kmh, 6);
  expect(toblerSpeed(s, true) * 3.6).toBeCloseTo(0.6 * kmh, 6);
  expect(toblerTimeS([{ runM: 1000, riseM: 1000 * s }]) / 60).toBeCloseTo(60 / kmh, 4);
  expect(time("tobler", slope(1000, 1000 * s), 0, 0) / 60).toBeCloseTo(60 / kmh, 4);
  expect(time("toblerOffPath", slope(1000, 1000 * s), 0, 0) / 60).toBeCloseTo(100 / kmh, 3);
});

// Source: DIN 33466 as in the alpine clubs' trail handbook: 8 km with 900 m up take four hours (published example);
// the others worked by hand from its rule.
test.each([
  [8000, 900, 0, 4],
  [8000, 600, 600, 4.2],
  [12_000, 600, 400, 4.4],
  [10_000, 0, 0, 2.5],
  [3000, 600, 0, 2.375],
  [6000, 0, 1000, 2.75],
])("DIN 33466: %d m, %d m up, %d m down take %d h", (distance, up, down, hours) => {
  expect(din33466TimeS(distance, up, down) / 3600).toBeCloseTo(hours, 9);
  expect(time("din33466", slope(distance, 0), up, down) / 3600).toBeCloseTo(hours, 9);
});

// Source: the geoportal viewer's formula (geoadmin/web-mapviewer, ElevationProfile), evaluated independently.
test.each([
  [-50, 45],
  [-40, 36],
  [-39.9, 36.4005],
  [-30, 27.5212],
  [-25, 23.5682],
  [-20, 19.8354],
  [-15, 16.6646],
  [-10, 14.2086],
  [-5, 13.2441],
  [0, 14.271],
  [5, 16.6314],
  [10, 19.9987],
  [15, 25.1966],
  [20, 32.3257],
  [25, 40.2363],
  [30, 48.794],
  [39.9, 66.8017],
  [40, 68],
  [50, 85],
])("Swiss: at %d %% a kilometre takes %d min", (percent, minutes) =>
  expect(swissMinutesPerKm(percent / 100)).toBeCloseTo(minutes, 4),
);

// Worked by hand: 2 km at +15 %, 1.5 km level, 2 km at −15 %: 2 × 25.1966 + 1.5 × 14.271 + 2 × 16.6646 = 105.1291 min.
test("Swiss: every stretch is summed, the last one too", () => {
  const p = profile([
    [0, 500],
    [2000, 800],
    [3500, 800],
    [5500, 500],
  ]);
  expect(time("swiss", p, 300, 300) / 60).toBeCloseTo(105.1291, 3);
  expect(swissTimeS([{ runM: 1000, riseM: 100 }]) / 60).toBeCloseTo(19.99866, 5);
});

// Worked by hand: see naismith.test.ts.
test("Naismith both ways through the one entry", () => {
  expect(time("naismith", slope(12_000, 600), 600, 0) / 3600).toBeCloseTo(3.4, 9);
  expect(time("naismith1892", slope(12_000, 600), 600, 0) / 3600).toBeCloseTo(3.46974, 5);
});

describe("what must not change a time", () => {
  const corners = [
    [0, 400],
    [730, 520],
    [1490, 430],
    [2210, 430],
    [3000, 640],
  ] as const;
  const methods = Object.keys(TIME_METHODS) as TimeMethod[];
  test.each(methods)("%s: sampling twice as densely", (method) => {
    expect(time(method, profile(corners, 5), 330, 90)).toBeCloseTo(
      time(method, profile(corners, 10), 330, 90),
      6,
    );
  });
  test.each(["tobler", "swiss", "langmuir"] as const)(
    "%s: noise of 30 cm moves it by under 3 %%",
    (method) => {
      const calm = profile(corners);
      const noisy = { ...calm, elevationM: calm.elevationM.map((h, i) => h + 0.3 * Math.sin(i * 12.9898)) };
      const before = time(method, calm, 330, 90);
      expect(Math.abs(time(method, noisy, 330, 90) / before - 1)).toBeLessThan(0.03);
    },
  );
});

test("missing heights: no time for the rules that need them", () => {
  const p = slope(1000, 100);
  p.elevationM[50] = Number.NaN;
  for (const method of Object.keys(TIME_METHODS) as TimeMethod[])
    expect(
      walkingTimeS(method, { distanceM: 1000, climbM: null, descentM: null, profile: p }),
      method,
    ).toBeNull();
});

describe("stretches", () => {
  test("equal, adding up, in order", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: 0.1, max: 300, noNaN: true }),
            fc.double({ min: -80, max: 80, noNaN: true }),
          ),
          { minLength: 1, maxLength: 40 },
        ),
        (steps) => {
          const d = [0];
          const h = [100];
          for (const [run, rise] of steps) {
            d.push((d.at(-1) as number) + run);
            h.push((h.at(-1) as number) + rise);
          }
          const stretches = stretchesOf({
            distanceM: Float64Array.from(d),
            elevationM: Float64Array.from(h),
          });
          const sum = (key: "runM" | "riseM"): number => (stretches ?? []).reduce((a, s) => a + s[key], 0);
          expect(sum("runM")).toBeCloseTo(d.at(-1) as number, 6);
          expect(sum("riseM")).toBeCloseTo((h.at(-1) as number) - 100, 6);
          expect(Math.max(...(stretches ?? []).map((s) => s.runM))).toBeLessThanOrEqual(50 + 1e-6);
        },
      ),
    );
  });
  test("no length, no heights", () => {
    expect(stretchesOf({ distanceM: Float64Array.of(0), elevationM: Float64Array.of(5) })).toEqual([]);
    expect(stretchesOf({ distanceM: new Float64Array(), elevationM: new Float64Array() })).toBeNull();
    expect(() => stretchesOf(slope(100, 1), 0)).toThrow(Fault);
  });
});

test("factors and rests lengthen a time", () => {
  expect(withFactors(3600, NO_FACTORS)).toBe(3600);
  // By hand: 3 h × 1.1 × 1.2 × 1.25 = 4.95 h, and 10 min of rest to the hour: 5.775 h.
  expect(
    withFactors(3 * 3600, { party: 1.1, load: 1.2, surface: 1.25, breakMinPerHour: 10 }) / 3600,
  ).toBeCloseTo(5.775, 9);
  for (const bad of [
    { party: 0 },
    { load: Number.NaN },
    { surface: 100 },
    { breakMinPerHour: -1 },
    { breakMinPerHour: 61 },
  ])
    expect(() => withFactors(3600, { ...NO_FACTORS, ...bad })).toThrow(Fault);
});

test("figures that cannot be", () => {
  for (const bad of [
    [-1, 0, 0],
    [0, Number.NaN, 0],
    [0, 0, Infinity],
  ] as const)
    expect(() => din33466TimeS(bad[0], bad[1], bad[2])).toThrow(Fault);
});
