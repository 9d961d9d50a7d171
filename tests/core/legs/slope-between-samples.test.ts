/**
 * Steep ground between samples that lie far apart. The ground is made here, so that its steepness is known from plane
 * geometry: level, a riser one cell of the model wide, level again.
 */
import { expect, test } from "vitest";
import { direct } from "../../../core/geodesy/geodesic.ts";
import { legFrame } from "../../../core/geodesy/leg-frame.ts";
import { zoneOf } from "../../../core/legs/aids/hazards-zone.ts";
import { steepGround } from "../../../core/legs/aids/steep-ground.ts";
import type { ElevationModel } from "../../../core/terrain/elevation.ts";
import { trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";

const EQUATOR_M = 111_319.49;
/** Samples a cell apart along the equator, the ground straight between them. */
function riserOf(cellM: number, riseM: number): ElevationModel {
  const sample = (column: number): number => (column <= 0 ? 0 : riseM);
  const at = (lon: number): number => {
    const x = (lon * EQUATOR_M) / cellM;
    const column = Math.floor(x);
    return sample(column) + (sample(column + 1) - sample(column)) * (x - column);
  };
  return {
    spacingM: () => cellM / 3,
    prepare: async () => {},
    isPrepared: () => true,
    at: ([lon]) => at(lon),
    samplesAround: ([lon]) => {
      const column = Math.round((lon * EQUATOR_M) / cellM);
      const row = [column - 1, column, column + 1].map(sample);
      return { heights: [...row, ...row, ...row], column: [cellM, 0], row: [0, -cellM] };
    },
  };
}

const steepestOn = (elevation: ElevationModel): number => {
  const from: LonLat = [-0.005, 0.001];
  const frame = legFrame(from, direct(from, trueBearing(90), 1100));
  const { stretches } = steepGround(frame, elevation, zoneOf(frame, 6, 0), [30, 35, 40]);
  return Math.max(0, ...stretches.filter(({ side }) => side === "on").map(({ steepestDeg }) => steepestDeg));
};

test("a riser of 45° a cell of 90 m wide is told, to a few degrees", () => {
  // Over the samples alone it would be 90 m of rise in 180 m, 27°.
  expect(steepestOn(riserOf(90, 90))).toBeGreaterThan(42);
  expect(steepestOn(riserOf(90, 90))).toBeLessThan(45.2);
});

test("a riser of 25° is not made steeper than it is", () => {
  expect(steepestOn(riserOf(90, 90 * Math.tan((25 * Math.PI) / 180)))).toBe(0);
});

test("samples as close as the ground is looked at are taken as they are", () => {
  // Horn's slope at the riser's edges: its rise over two cells.
  expect(steepestOn(riserOf(30, 45))).toBeCloseTo((Math.atan(45 / 60) * 180) / Math.PI, 1);
});
