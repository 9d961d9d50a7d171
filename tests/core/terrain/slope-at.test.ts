import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { meridianRadius, parallelRadius } from "../../../core/geodesy/ellipsoid.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { prepareGround } from "../../../core/terrain/ground.ts";
import { slopeAt } from "../../../core/terrain/slope-at.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { realGround } from "./support/real-ground.ts";

/** gdaldem's slopes and aspects at samples of the models, see tests/fixtures/terrain/README.md. */
const gdaldem = (name: string): (readonly [lon: number, lat: number, deg: number, aspectDeg: number])[] =>
  JSON.parse(
    readFileSync(new URL(`../../fixtures/terrain/slopes-${name}.json`, import.meta.url)).toString(),
  ) as (readonly [number, number, number, number])[];

describe.each(["bigtujunga", "jacksboro"] as const)("slopes of the real model %s", (name) => {
  const slopes: { off: number; aspectOff: number; deg: number }[] = [];
  beforeAll(async () => {
    const ground = await realGround(name, 20);
    const elevation = ground.elevation!;
    await prepareGround(
      ground,
      name === "bigtujunga" ? [-118.21, 34.3, -118.12, 34.37] : [-84.33, 36.54, -84.19, 36.66],
    );
    for (const [lon, lat, deg, aspectDeg] of gdaldem(name)) {
      const slope = slopeAt(elevation, [lon, lat]);
      if (!slope) continue;
      const turn = Math.abs((slope.aspect ?? 0) - aspectDeg);
      slopes.push({ off: Math.abs(slope.deg - deg), aspectOff: Math.min(turn, 360 - turn), deg });
    }
  }, 120_000);

  it("are gdaldem's within half a degree for 95 % of cells", () => {
    expect(slopes.length).toBeGreaterThan(300);
    const share = slopes.filter((s) => s.off <= 0.5).length / slopes.length;
    expect(share).toBeGreaterThanOrEqual(0.95);
  });

  it("face where gdaldem's do, within a degree where it is steep enough to tell", () => {
    const steep = slopes.filter((s) => s.deg > 5);
    expect(steep.length).toBeGreaterThan(200);
    expect(steep.filter((s) => s.aspectOff <= 1).length / steep.length).toBeGreaterThanOrEqual(0.95);
  });
});

describe("slope of a model that does not tell its samples", () => {
  const [lon0, lat0] = [10, 60];
  /** A plane that rises by so much per metre east and north. */
  const plane = (east: number, north: number): ElevationModel => ({
    spacingM: () => 10,
    prepare: () => Promise.resolve(),
    isPrepared: () => true,
    at: ([lon, lat]: LonLat) =>
      ((lon - lon0) * parallelRadius(lat0) * east + (lat - lat0) * meridianRadius(lat0) * north) *
      (Math.PI / 180),
  });

  // A plane rising one in one to the east is at 45° and faces west; and so on round.
  it.each([
    [1, 0, 45, 270],
    [0, 1, 45, 180],
    [-0.1, 0, 5.7106, 90],
    [0, -Math.sqrt(3), 60, 0],
    [-1, -1, 54.7356, 45],
  ])("of %f east and %f north is that of the plane", (east, north, deg, aspect) => {
    const slope = slopeAt(plane(east, north), [lon0, lat0])!;
    expect(slope.deg).toBeCloseTo(deg, 3);
    expect(slope.aspect).toBeCloseTo(aspect, 3);
  });

  it("has no aspect on the level and no slope beside a void", () => {
    expect(slopeAt(plane(0, 0), [lon0, lat0])).toEqual({ deg: 0, aspect: null });
    const hole = { ...plane(1, 0), at: ([lon]: LonLat) => (lon > lon0 ? Number.NaN : 0) };
    expect(slopeAt(hole, [lon0, lat0])).toBeNull();
  });
});
