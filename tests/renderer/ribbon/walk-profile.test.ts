import { describe, expect, test } from "vitest";
import type { LegFigures } from "../../../core/legs/figures.ts";
import { ribbonScale, roundHeights } from "../../../renderer/ribbon/ribbon-scale.ts";
import { groundBetween, heightAt, walkProfile } from "../../../renderer/ribbon/walk-profile.ts";

/** As much of a leg as the ribbon looks at. */
const leg = (
  from: string,
  to: string,
  distances: number[],
  heights: number[],
  crossesAt: number[] = [],
): LegFigures =>
  ({
    from,
    to,
    distanceM: distances.at(-1) ?? 0,
    profile: {
      from: "terrain",
      distanceM: Float64Array.from(distances),
      elevationM: Float64Array.from(heights),
      errorM: null,
      blind: [],
    },
    crossings: crossesAt.map((atM) => ({
      kind: "stream",
      name: null,
      atM,
      elevationM: null,
      paces: 0,
      crossingDeg: 90,
    })),
    landforms: [],
  }) as unknown as LegFigures;

describe("the walk on one axis", () => {
  const walk = walkProfile([
    leg("A", "B", [0, 50, 100], [10, 20, 30], [25]),
    leg("B", "C", [0, 100, 200], [30, 10, 40], [150]),
  ]);

  test("legs follow one another, and so do their crossings", () => {
    expect(walk.lengthM).toBe(300);
    expect(walk.legs.map(({ startM, endM }) => [startM, endM])).toEqual([
      [0, 100],
      [100, 300],
    ]);
    expect(walk.crossings.map(({ atM }) => atM)).toEqual([25, 250]);
    expect([walk.lowestM, walk.highestM]).toEqual([10, 40]);
  });

  test("heights between samples are read off the straight line between them", () => {
    expect(heightAt(walk, 25)).toBe(15);
    expect(heightAt(walk, 150)).toBe(20);
    expect(heightAt(walk, 300)).toBe(40);
    expect(heightAt(walk, 301)).toBeNull();
  });

  test("ground without a height is a gap, not a guess", () => {
    const gap = walkProfile([leg("A", "B", [0, 10, 20, 30, 40], [5, 6, NaN, 8, 9])]);
    expect(gap.stretches.map((stretch) => stretch.map(([x]) => x))).toEqual([
      [0, 10],
      [30, 40],
    ]);
    expect(heightAt(gap, 20)).toBeNull();
    expect(heightAt(gap, 35)).toBe(8.5);
  });

  test("without any heights there is no ground at all", () => {
    const bare = walkProfile([leg("A", "B", [0, 40], [NaN, NaN])]);
    expect(bare.stretches).toEqual([]);
    expect([bare.lowestM, bare.highestM]).toEqual([null, null]);
  });
});

describe("the ribbon's scale", () => {
  const box = { left: 50, right: 1050, top: 60, bottom: 160 };

  test("pixels and metres lead back to each other, and never out of the walk", () => {
    const scale = ribbonScale(box, 2000, 100, 300, "metric");
    for (const metres of [0, 1, 777, 2000]) expect(scale.along(scale.x(metres))).toBeCloseTo(metres, 9);
    expect(scale.along(-500)).toBe(0);
    expect(scale.along(5000)).toBe(2000);
  });

  test("the highest and the lowest ground are within the box", () => {
    const scale = ribbonScale(box, 2000, 100, 300, "metric");
    expect(scale.y(300)).toBeGreaterThanOrEqual(box.top);
    expect(scale.y(100)).toBeLessThanOrEqual(box.bottom);
  });

  test("two metres of rise do not fill the ribbon", () => {
    const scale = ribbonScale(box, 2000, 100, 102, "metric");
    expect(scale.y(100) - scale.y(102)).toBeLessThan(10);
  });

  test.each([
    [100, 300, "metric"],
    [0, 41, "metric"],
    [210, 1231, "metric"],
    [60, 75, "imperial"],
    [0, 4000, "imperial"],
  ] as const)("from %d to %d m there are few hairlines, at round heights in %s", (low, high, unit) => {
    const toM = unit === "metric" ? 1 : 0.3048; // the international foot
    const heights = roundHeights(low, high, unit).map((height) => height / toM);
    expect(heights.length).toBeGreaterThanOrEqual(2);
    expect(heights.length).toBeLessThanOrEqual(5);
    const step = (heights[1] as number) - (heights[0] as number);
    expect(Number(step.toPrecision(6)) / 10 ** Math.floor(Math.log10(step + 1e-9))).toBeOneOf([1, 2, 5]);
    for (const height of heights)
      expect(Math.abs(height / step - Math.round(height / step))).toBeLessThan(1e-6);
  });
});

test("the ground of a stretch is cut out of the profile at its ends", () => {
  const walk = walkProfile([leg("A", "B", [0, 50, 100], [10, 20, 10]), leg("B", "C", [0, 100], [10, 30])]);
  expect(groundBetween(walk, 25, 125)).toEqual([
    [
      [25, 15],
      [50, 20],
      [100, 10],
      [100, 10],
      [125, 15],
    ],
  ]);
  expect(groundBetween(walk, 500, 600)).toEqual([]);
});

test("landforms lie along the whole walk; one gone along stands at the middle of its stretch", () => {
  const form = { kind: "spur", name: null, fromM: 10, toM: 50, atM: 20, reliefM: 5, words: "" } as const;
  const second = {
    ...leg("B", "C", [0, 100], [10, 30]),
    landforms: [
      { ...form, way: "across" as const },
      { ...form, way: "along" as const },
    ],
  };
  const walk = walkProfile([leg("A", "B", [0, 100], [10, 20]), second]);
  expect(walk.landforms.map(({ fromM, atM, toM }) => [fromM, atM, toM])).toEqual([
    [110, 120, 150],
    [110, 130, 150],
  ]);
});
