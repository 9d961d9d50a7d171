import { describe, expect, it } from "vitest";
import { Fault } from "../../../core/fault.ts";
import { evenRuns } from "../../../core/terrain/even-runs.ts";
import { slopeChanges } from "../../../core/terrain/slope-changes.ts";

const rise = (deg: number): number => Math.tan((deg * Math.PI) / 180);

/** Heights of a formula, every few metres. */
const ground = (height: (d: number) => number, lengthM = 1000, stepM = 7.3) => {
  const at = Array.from({ length: Math.floor(lengthM / stepM) + 1 }, (_, i) => i * stepM);
  if (at.at(-1)! < lengthM) at.push(lengthM);
  return { distanceM: Float64Array.from(at), elevationM: Float64Array.from(at, height) };
};

/** Straight stretches: from each distance on, a slope in degrees. */
const planes =
  (...parts: readonly (readonly [fromM: number, deg: number])[]) =>
  (d: number): number =>
    parts.reduce(
      (h, [fromM, deg], i) => h + rise(deg) * Math.max(0, Math.min(d, parts[i + 1]?.[0] ?? Infinity) - fromM),
      500,
    );

/** Deviates with a standard deviation of 1, the same every time: twelve even ones added. */
const noise = (() => {
  let seed = 17;
  return (): number => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += (seed = (seed * 48271) % 2147483647) / 2147483647;
    return sum;
  };
})();

describe("sharp changes of slope, on planes laid end to end", () => {
  it.each([
    ["a plane and a steeper one", 5, 20, "steeper"],
    ["a steep plane and a gentler one", 22, 9, "easier"],
    ["a fall that becomes steeper", -6, -25, "steeper"],
    ["a fall that becomes gentler", -25, -6, "easier"],
    ["a level and a climb", 0, 12, "climbs"],
    ["a level and a fall", 1, -12, "falls"],
    ["a climb and a level", 15, 0, "levels"],
    ["a fall and a level", -15, 1, "levels"],
    ["a roof", 10, -10, "falls"],
    ["a trough", -10, 10, "climbs"],
  ] as const)("%s", (_, beforeDeg, afterDeg, kind) => {
    const found = slopeChanges(ground(planes([0, beforeDeg], [430, afterDeg])));
    expect(found.map((c) => c.kind)).toEqual([kind]);
    expect(Math.abs(found[0]!.atM - 430)).toBeLessThan(5);
    expect(Math.abs(found[0]!.beforeDeg - beforeDeg)).toBeLessThan(1);
    expect(Math.abs(found[0]!.afterDeg - afterDeg)).toBeLessThan(1);
  });

  it("come in order, each once", () => {
    const found = slopeChanges(ground(planes([0, 2], [200, 18], [400, 5], [600, -10], [800, 0])));
    expect(found.map((c) => c.kind)).toEqual(["climbs", "easier", "falls", "levels"]);
    found.forEach((c, i) => expect(Math.abs(c.atM - 200 * (i + 1))).toBeLessThan(6));
  });

  it("walked the other way are at the same places, climbs and falls exchanged", () => {
    const there = ground(planes([0, 2], [200, 18], [400, 5], [600, -10], [800, 0]));
    const back = {
      distanceM: there.distanceM.map((d) => 1000 - d).toReversed(),
      elevationM: there.elevationM.toReversed(),
    };
    const found = slopeChanges(back);
    expect(found.map((c) => c.kind)).toEqual(["climbs", "falls", "steeper", "levels"]);
    found.forEach((c, i) => expect(Math.abs(c.atM - 200 * (i + 1))).toBeLessThan(6));
  });

  it("on steep ground count when one side is twice as steep as the other", () => {
    expect(slopeChanges(ground(planes([0, 35], [400, 24])))).toEqual([]);
    expect(slopeChanges(ground(planes([0, 35], [400, 16])))).toHaveLength(1);
  });

  it("smaller than what is noticed are none", () => {
    expect(slopeChanges(ground(planes([0, 5], [400, 12])))).toEqual([]);
    expect(slopeChanges(ground(planes([0, 5], [400, 12])), { leastDeg: 6 })).toHaveLength(1);
  });
});

describe("no change of slope", () => {
  it.each([-30, -5, 0, 3, 14, 40])("on a constant slope of %f°", (deg) =>
    expect(slopeChanges(ground(planes([0, deg])))).toEqual([]),
  );
  it("from unevenness of half a metre on a slope", () => {
    for (const deg of [0, 4, 15, -20]) {
      const { distanceM, elevationM } = ground(planes([0, deg]), 5000);
      expect(slopeChanges({ distanceM, elevationM: elevationM.map((h) => h + noise() / 2) })).toEqual([]);
    }
  });
  it("on a wide even curve", () => {
    // A parabola whose slope changes by 0.1 in 100 m: 2.3° over 40 m.
    expect(slopeChanges(ground((d) => 0.0005 * d * d, 600))).toEqual([]);
  });
  it("on a leg too short to tell, without length, or without heights", () => {
    expect(slopeChanges(ground(planes([0, 0], [35, 40]), 70))).toEqual([]);
    expect(slopeChanges({ distanceM: Float64Array.of(0), elevationM: Float64Array.of(5) })).toEqual([]);
    expect(
      slopeChanges({ distanceM: Float64Array.of(0, 900), elevationM: Float64Array.of(NaN, NaN) }),
    ).toEqual([]);
  });
});

describe("rounded tops and bottoms", () => {
  /** An arc of a parabola from 10° up to 10° down over 300 m, then straight on. */
  const dome = (d: number): number => {
    const x = Math.abs(d - 500);
    return 500 - (x < 150 ? (rise(10) * x * x) / 300 : rise(10) * (x - 75));
  };
  it("are noticed at their highest and lowest places", () => {
    const [top, ...more] = slopeChanges(ground(dome));
    expect(more).toEqual([]);
    expect(top!.kind).toBe("falls");
    expect(Math.abs(top!.atM - 500)).toBeLessThan(10);
    expect(top!.beforeDeg).toBeGreaterThan(3);
    expect(top!.afterDeg).toBeCloseTo(-top!.beforeDeg, 0);
    const bottom = slopeChanges(ground((d) => -dome(d)));
    expect(bottom.map((c) => c.kind)).toEqual(["climbs"]);
  });
  it("are none where either side is gentle", () => {
    expect(slopeChanges(ground((d) => -Math.abs(d - 500) * rise(3)))).toEqual([]);
  });
});

describe("where heights are missing", () => {
  it("what lies before and after is told, nothing across", () => {
    const { distanceM, elevationM } = ground(planes([0, 0], [300, 20], [600, 20], [800, 0]));
    const gap = {
      distanceM,
      elevationM: elevationM.map((h, i) => (Math.abs(distanceM[i]! - 550) < 60 ? NaN : h)),
    };
    expect(slopeChanges(gap).map((c) => [c.kind, Math.round(c.atM / 20) * 20])).toEqual([
      ["climbs", 300],
      ["levels", 800],
    ]);
  });
});

it("settings that make no sense are refused", () => {
  for (const bad of [{ overM: 0 }, { overM: Number.NaN }, { leastDeg: -1 }, { turnDeg: 0 }, { levelDeg: -1 }])
    expect(() => slopeChanges(ground(planes([0, 5])), bad)).toThrow(Fault);
});

it("even runs are straight between the samples and reach both ends of each stretch", () => {
  const runs = evenRuns(
    { distanceM: Float64Array.of(0, 10, 40, 50, 60, 90), elevationM: Float64Array.of(5, 15, 15, NaN, 0, 30) },
    5,
  );
  expect(runs.map((r) => [r.fromM, r.stepM])).toEqual([
    [0, 5],
    [60, 5],
  ]);
  expect([...runs[0]!.heightsM]).toEqual([5, 10, 15, 15, 15, 15, 15, 15, 15]);
  expect([...runs[1]!.heightsM]).toEqual([0, 5, 10, 15, 20, 25, 30]);
});
