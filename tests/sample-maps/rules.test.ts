// The rules that shape ground and features, on cases small enough to work out by hand (no outside source).
import { describe, expect, it } from "vitest";
import { isoAreas, signedAreaM2 } from "../../sample-maps/features/iso-areas.ts";
import { leastCostRoute, markUsed } from "../../sample-maps/features/least-cost-route.ts";
import { lengthOf, nearestOn, simplified } from "../../sample-maps/features/line-shape.ts";
import type { RouteGround } from "../../sample-maps/features/route-ground.ts";
import { summitsOf } from "../../sample-maps/features/summits.ts";
import { drainageOf } from "../../sample-maps/terrain/drainage.ts";
import { gridOf, newGrid, sample, type HeightGrid } from "../../sample-maps/terrain/height-grid.ts";
import { creep } from "../../sample-maps/terrain/hillslope.ts";
import { octaveNoise } from "../../sample-maps/terrain/noise.ts";
import type { Place } from "../../sample-maps/terrain/recipe.ts";

const grid = (rows: readonly (readonly number[])[], cellM = 10): HeightGrid => ({
  columns: (rows[0] as readonly number[]).length,
  rows: rows.length,
  cellM,
  z: Float64Array.from(rows.flat()),
});

describe("drainage", () => {
  it("fills a pit to the level at which it spills", () => {
    const pit = grid([
      [9, 9, 9, 9],
      [9, 2, 5, 1],
      [9, 9, 9, 9],
    ]);
    const { filled, receiver, areaM2 } = drainageOf(pit, [7]);
    expect(filled[5]).toBe(5);
    expect(receiver[5]).toBe(6);
    expect(receiver[6]).toBe(7);
    // Everything drains through the only outlet.
    expect(areaM2[7]).toBe(12 * 100);
  });
});

describe("creep", () => {
  it("keeps the mass and lowers the bump", () => {
    const bump = grid([
      [0, 0, 0],
      [0, 9, 0],
      [0, 0, 0],
    ]);
    creep(bump, 30);
    expect(bump.z.reduce((a, b) => a + b)).toBeCloseTo(9, 12);
    expect(bump.z[4]).toBeLessThan(5);
  });
});

describe("noise", () => {
  it("is smooth, bounded and centred", () => {
    let sum = 0;
    for (let i = 0; i < 4000; i++) {
      const value = octaveNoise(5, i * 37.7, i * 11.3, 100, 4);
      expect(Math.abs(value)).toBeLessThan(1.2);
      expect(Math.abs(value - octaveNoise(5, i * 37.7 + 0.01, i * 11.3, 100, 4))).toBeLessThan(0.01);
      sum += value;
    }
    expect(Math.abs(sum / 4000)).toBeLessThan(0.05);
  });
});

describe("areas", () => {
  it("have their hole, and rings that wind as they should", () => {
    const distance = gridOf(newGrid(60, 60, 10), (east, north) => Math.hypot(east - 300, north - 300));
    const ring = { ...distance, z: distance.z.map((d) => Math.min(200 - d, d - 80)) };
    const areas = isoAreas(ring, 1000);
    expect(areas.length).toBe(1);
    const [outer, hole] = areas[0] as (typeof areas)[number];
    // Circles of 200 and 80 m; the chords of a 10 m grid take off well under 1 %.
    expect(signedAreaM2(outer) / (Math.PI * 200 ** 2)).toBeCloseTo(1, 2);
    expect(signedAreaM2(hole as typeof outer) / (-Math.PI * 80 ** 2)).toBeCloseTo(1, 1);
  });
});

describe("simplifying", () => {
  it("stays within its tolerance", () => {
    const line = Array.from({ length: 300 }, (_v, i): Place => [i * 5, 40 * Math.sin(i / 20)]);
    const fewer = simplified(line, 2);
    expect(fewer.length).toBeLessThan(60);
    expect(Math.max(...line.map((place) => nearestOn(fewer, place).distanceM))).toBeLessThanOrEqual(2);
  });
});

describe("summits", () => {
  it("are as prominent as the way down to the pass says", () => {
    const found = summitsOf(
      gridOf(newGrid(41, 21, 10), (east, north) => {
        const hill = (at: number, height: number): number =>
          height - 0.5 * Math.max(Math.abs(east - at), Math.abs(north - 105));
        return Math.max(hill(105, 300), hill(305, 280));
      }),
      5,
    );
    // Half a metre a metre down from 280 on one side and 300 on the other: they meet 120 m from the higher, at 240.
    expect(found.map((s) => [s.heightM, s.prominenceM])).toEqual([
      [300, Infinity],
      [280, 40],
    ]);
  });
});

describe("routes", () => {
  const slope = (rise: number): RouteGround => {
    const plane = gridOf(newGrid(60, 60, 24), (_east, north) => rise * north);
    const none = new Float64Array(plane.z.length);
    return {
      grid: plane,
      blocked: new Uint8Array(plane.z.length),
      ford: none,
      bank: none,
      rough: new Float64Array(plane.z.length).fill(1),
      steep: none,
    };
  };
  const unused = new Uint16Array(3600);
  const taste = { grade: 0.12, turnM: 26, sideSlope: 0.6 };
  const from: Place = [700, 100];
  const to: Place = [700, 900];
  const placesOf = (ground: RouteGround, cells: readonly number[]): Place[] =>
    cells.map((cell) => [
      ((cell % 60) + 0.5) * ground.grid.cellM,
      (59.5 - Math.floor(cell / 60)) * ground.grid.cellM,
    ]);

  it("swing to and fro on a steep slope, and go straight on a gentle one", () => {
    const steep = slope(0.4);
    const swung = placesOf(steep, leastCostRoute(steep, from, to, taste, unused) ?? []);
    expect(lengthOf(swung)).toBeGreaterThan(1.6 * 800);
    const grades = swung.slice(1).map((place, i) => {
      const before = swung[i] as Place;
      return (
        Math.abs(sample(steep.grid, ...place) - sample(steep.grid, ...before)) /
        Math.hypot(place[0] - before[0], place[1] - before[1])
      );
    });
    expect(Math.max(...grades)).toBeLessThan(0.3);
    const gentle = slope(0.05);
    expect(lengthOf(placesOf(gentle, leastCostRoute(gentle, from, to, taste, unused) ?? []))).toBeLessThan(
      1.02 * 800,
    );
  });

  it("go round what is blocked, or say that there is no way", () => {
    const ground = slope(0);
    for (let column = 0; column < 50; column++) ground.blocked[30 * 60 + column] = 1;
    const cells = leastCostRoute(ground, from, to, taste, unused) ?? [];
    expect(cells.some((cell) => cell % 60 >= 50)).toBe(true);
    expect(cells.every((cell) => ground.blocked[cell] === 0)).toBe(true);
    for (let column = 50; column < 60; column++) ground.blocked[30 * 60 + column] = 1;
    expect(leastCostRoute(ground, from, to, taste, unused)).toBeNull();
  });

  it("follow a way that is there already", () => {
    const ground = slope(0);
    const used = new Uint16Array(3600);
    for (let row = 20; row < 57; row++) markUsed(used, 60, row * 60 + 33, (row + 1) * 60 + 33);
    const cells = leastCostRoute(ground, from, to, taste, used) ?? [];
    expect(cells.filter((cell) => cell % 60 === 33).length).toBeGreaterThan(20);
  });
});
