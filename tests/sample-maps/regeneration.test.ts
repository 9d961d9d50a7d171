// The same seed gives the same ground and the same features, on every run and every machine. A grid of 48 m instead of
// 12 m keeps it quick; `npm run sample-map -- --check` does the same for the whole map, byte by byte.
import { createHash } from "node:crypto";
import { beforeAll, describe, expect, it } from "vitest";
import { makeFeatures } from "../../sample-maps/features/reserve-features.ts";
import { roleFeatures } from "../../sample-maps/features/role-features.ts";
import { SEED } from "../../sample-maps/terrain/recipe.ts";
import { makeTerrain, type Terrain } from "../../sample-maps/terrain/reserve-terrain.ts";

const digest = (data: string | Float64Array): string =>
  createHash("sha256").update(data).digest("hex").slice(0, 16);

let terrain: Terrain;
beforeAll(() => {
  terrain = makeTerrain(SEED, 1);
}, 120_000);

describe("the seeded script", () => {
  it("makes the ground it made before", () => {
    // Recorded from this script with Node 20.20 on x86-64; any engine must give it, as no rounding is left to chance.
    expect(digest(terrain.grid.z)).toBe("052f53f312e0f89b");
  });

  it("makes the features it made before", () => {
    expect(digest(JSON.stringify(roleFeatures(terrain, makeFeatures(terrain, SEED))))).toBe(
      "433f7fd1fe1872d7",
    );
  }, 120_000);

  it("makes other ground from another seed", () => {
    const other = makeTerrain(SEED + 1, 1).grid.z;
    expect(other.some((height, i) => Math.abs(height - (terrain.grid.z[i] as number)) > 20)).toBe(true);
  }, 120_000);
});

describe("the ground", () => {
  it("drains: from every cell water goes down or level to its receiver, off the sheet in the end", () => {
    const { grid, receiver } = terrain;
    const rises = [...receiver].filter(
      (to, cell) => to >= 0 && (grid.z[to] as number) > (grid.z[cell] as number) + 1e-9,
    );
    expect(rises).toEqual([]);
    const leaves = new Uint8Array(receiver.length);
    for (let start = 0; start < receiver.length; start++) {
      const way: number[] = [];
      for (let cell = start; cell >= 0 && leaves[cell] === 0; cell = receiver[cell] as number) {
        way.push(cell);
        if (way.length > receiver.length) throw new Error(`water from cell ${start} runs in a circle`);
      }
      for (const cell of way) leaves[cell] = 1;
    }
  });

  it("has a level lake with one outlet", () => {
    const { grid, shore, receiver, lakeLevelM } = terrain;
    const lake = [...shore.keys()].filter((cell) => (shore[cell] as number) <= 0);
    expect(lake.length * grid.cellM ** 2).toBeGreaterThan(500_000);
    expect(lake.every((cell) => Math.abs((grid.z[cell] as number) - lakeLevelM) < 0.011)).toBe(true);
    const outside = new Set(
      lake.map((cell) => receiver[cell] as number).filter((to) => (shore[to] as number) > 0),
    );
    expect(outside.size).toBe(1);
  });
});
