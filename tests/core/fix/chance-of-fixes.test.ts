/** How often the ellipse holds the place, and how the bearings' agreement is told. */
import { describe, expect, it } from "vitest";
import { chiSquareTail } from "../../../core/fix/chi-square.ts";
import { CHI_SQUARE_95, ellipseOf, squaredDeviations } from "../../../core/fix/ellipse.ts";
import { intersect, resect } from "../../../core/fix/from-bearings.ts";
import { offset } from "../../../core/fix/rays.ts";
import { type Sighting, usualFixSettings } from "../../../core/fix/sighting.ts";
import { direct, inverse } from "../../../core/geodesy/geodesic.ts";
import { normalise360, trueBearing } from "../../../core/units/angle.ts";
import type { LonLat } from "../../../core/units/position.ts";
import { evenFrom, normalFrom } from "./support/chance.ts";

const SETTINGS = usualFixSettings("2026-06-01");
const TRIALS = 2000;

/**
 * Closed form: a bivariate normal lies within the ellipse χ² = −2 ln 0.05 in 95 % of cases. The share held by 2,000 trials has a
 * standard deviation of 0.5 points; bounds as asked for, 94 to 96 %.
 */
describe("the 95 % ellipse holds the truth in 94 to 96 of 100 cases", () => {
  it.each([
    ["resection", 2],
    ["resection", 3],
    ["resection", 5],
    ["intersection", 2],
    ["intersection", 3],
  ] as const)("%s from %i bearings", { timeout: 60_000 }, (what, count) => {
    const [even, normal] = [evenFrom(40 + count), normalFrom(50 + count)];
    let held = 0;
    for (let i = 0; i < TRIALS; i++) {
      const truth: LonLat = [even() * 300 - 150, even() * 120 - 60];
      const first = even() * 360;
      const sightings = Array.from({ length: count }, (_, k): Sighting => {
        // Two that cross at 50 to 130°, the others anywhere; errors of 1 to 2°.
        const azimuth = k === 0 ? first : k === 1 ? first + 50 + even() * 80 : even() * 360;
        const known = direct(truth, trueBearing(azimuth), 500 + even() * 4000);
        const errorDeg = 1 + even();
        const { bearing } = what === "resection" ? inverse(truth, known) : inverse(known, truth);
        return {
          known,
          name: null,
          deg: normalise360(bearing + errorDeg * normal()),
          north: "true",
          errorDeg,
        };
      });
      const fix = (what === "resection" ? resect : intersect)(sightings, SETTINGS);
      if (squaredDeviations(fix.covariance, ...offset(fix.at, truth)) < CHI_SQUARE_95) held++;
    }
    expect(held / TRIALS).toBeGreaterThan(0.94);
    expect(held / TRIALS).toBeLessThan(0.96);
  });

  it("with magnetic bearings that share an error of the declination", { timeout: 60_000 }, () => {
    const [even, normal] = [evenFrom(7), normalFrom(8)];
    const settings = { ...SETTINGS, commonErrorDeg: 2 };
    const truth: LonLat = [8.1, 47.1];
    let held = 0;
    const trials = 1000;
    for (let i = 0; i < trials; i++) {
      const shared = 2 * normal();
      const first = even() * 360;
      const sightings = [0, 70, 160].map((turn): Sighting => {
        const known = direct(truth, trueBearing(first + turn), 1000 + even() * 3000);
        const { bearing } = inverse(truth, known);
        return {
          known,
          name: null,
          deg: normalise360(bearing - DECLINATION + shared + 1.5 * normal()),
          north: "magnetic",
          errorDeg: 1.5,
        };
      });
      const fix = resect(sightings, settings);
      if (squaredDeviations(fix.covariance, ...offset(fix.at, truth)) < CHI_SQUARE_95) held++;
    }
    expect(held / trials).toBeGreaterThan(0.935);
    expect(held / trials).toBeLessThan(0.965);
  });
});

/** As resect itself has it there: only the errors are of chance here. */
const DECLINATION = resect(
  [0, 90].map((turn) => ({
    known: direct([8.1, 47.1], trueBearing(turn), 1000),
    name: null,
    deg: turn,
    north: "magnetic" as const,
  })),
  SETTINGS,
).bearings[0]?.declinationDeg as number;

/** Source: scipy.stats.chi2.sf, 1.17, run once for this table; the first two are the usual 5 % and 1 % points. */
it.each([
  [3.841459, 1, 0.05],
  [6.634897, 1, 0.01],
  [5.991465, 2, 0.05],
  [9.21034, 2, 0.01],
  [7.814728, 3, 0.05],
  [13.2767, 4, 0.01],
  [11.0705, 5, 0.05],
  [18.307038, 10, 0.05],
  [0.1, 3, 0.991837],
])("the tail of chi-square beyond %f with %i degrees of freedom is %f", (x, degrees, tail) => {
  expect(chiSquareTail(x, degrees)).toBeCloseTo(tail, 5);
});

/** Closed form: the eigenvectors of a diagonal matrix turned by an angle. */
it.each([0, 30, 45, 90, 135, 179])("an ellipse lies as its axes do: %i°", (deg) => {
  const [s, c] = [Math.sin((deg * Math.PI) / 180), Math.cos((deg * Math.PI) / 180)];
  // 9 m² along the axis, 4 across.
  const covariance = { ee: 9 * s * s + 4 * c * c, en: (9 - 4) * s * c, nn: 9 * c * c + 4 * s * s };
  const { semiMajorM, semiMinorM, bearing } = ellipseOf(covariance, 1);
  expect(semiMajorM).toBeCloseTo(3, 9);
  expect(semiMinorM).toBeCloseTo(2, 9);
  expect(bearing).toBeCloseTo(deg, 6);
});
