/**
 * Resection and intersection.
 *
 * A resection from compass bearings is not one from angles between landmarks: each bearing alone gives a line, so there is
 * no danger circle, and two bearings are enough. What hurts is lines that cross at a narrow angle.
 */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import { trueBearing } from "../units/angle.ts";
import type { LengthUnit } from "../units/format.ts";
import { commonTurnOf, cornersOf, reversedOf, withoutOne } from "./cross-checks.ts";
import { ellipseOf } from "./ellipse.ts";
import type { Fix, FixedBearing } from "./fix.ts";
import { warningsOf } from "./fix-warnings.ts";
import { agreementOf, CLEARED, INCONSISTENT, normalisedResiduals, suspectsOf } from "./judge.ts";
import type { Solution } from "./least-squares.ts";
import type { Ray } from "./rays.ts";
import { type Settled, settle } from "./settle.ts";
import {
  checkSightings,
  type FixSettings,
  nameOf,
  type NorthsOf,
  northsOf,
  type NorthsThere,
  type Sighting,
} from "./sighting.ts";
import { leaveOutWords } from "./words.ts";

/** More bearings than this are no fix taken by a person. No source. */
const MOST_BEARINGS = 50;

/**
 * Own position from bearings to two or more known points, by weighted least squares on WGS 84 geodesics. Magnetic and grid
 * bearings are turned with the norths of the place itself, which is found together with them.
 * @param sightings from the place to known points
 * @param unit of the lengths in warnings
 * @throws Fault "bad-argument" for fewer than two bearings, one that cannot be, or bearings that meet nowhere;
 *   "out-of-range" when there is no declination for the day
 */
export const resect = (
  sightings: readonly Sighting[],
  settings: FixSettings,
  unit: LengthUnit = "metric",
): Fix => fixOf(sightings, settings, "place", unit);

/**
 * A far point's position from bearings taken at two or more known places; as `resect`, with the norths of each place where a
 * bearing was taken.
 * @param sightings from known places to the far point
 * @param unit of the lengths in warnings
 * @throws Fault as `resect` does
 */
export const intersect = (
  sightings: readonly Sighting[],
  settings: FixSettings,
  unit: LengthUnit = "metric",
): Fix => fixOf(sightings, settings, "known", unit);

/** @throws Fault as `settle` does; with a bearing to leave out where the others agree without it */
function settledOr(sightings: readonly Sighting[], norths: NorthsOf, from: Ray["from"]): Settled {
  try {
    return settle(sightings, norths, from);
  } catch (thrown) {
    const fault = Fault.from(thrown);
    // Of three, any two meet somewhere: that says nothing of the third.
    if (sightings.length < 4 || fault.code !== "bad-argument") throw fault;
    const wrong = sightings.flatMap((_, left) => {
      const rest = sightings.filter((__, i) => i !== left);
      return agree(rest, norths, from) ? [nameOf(sightings[left] as Sighting, left)] : [];
    });
    throw wrong.length === 0 ? fault : new Fault(fault.code, fault.what, fault.where, leaveOutWords(wrong));
  }
}

function agree(sightings: readonly Sighting[], norths: NorthsOf, from: Ray["from"]): boolean {
  try {
    return agreementOf(settle(sightings, norths, from).solution).chance > CLEARED;
  } catch {
    // These meet nowhere either.
    return false;
  }
}

function fixOf(
  sightings: readonly Sighting[],
  settings: FixSettings,
  from: Ray["from"],
  unit: LengthUnit,
): Fix {
  const first = sightings[0];
  if (!first || sightings.length < 2 || sightings.length > MOST_BEARINGS)
    throw new Fault(
      "bad-argument",
      `A fix needs 2 to ${MOST_BEARINGS} bearings, not ${sightings.length}.`,
      null,
      "With one bearing, choose a line on the map that you stand on.",
    );
  checkSightings(sightings);
  const norths = northsOf(
    settings,
    sightings.map(({ north }) => north),
    first.known,
  );
  const { solution, rays, there } = settledOr(sightings, norths, from);
  const covariance = solution.covariance;
  const ellipse95 = ellipseOf(covariance);
  const agreement = agreementOf(solution);
  const normalised = normalisedResiduals(solution);
  const without = rays.map((_, i) => (rays.length > 2 ? withoutOne(rays, i, solution.at) : null));
  const suspects = suspectsOf(agreement, without);
  const suspect = suspects.length === 1 ? (suspects[0] as number) : null;
  const corners = cornersOf(rays, solution.at);
  const bearings = sightings.map((sighting, i): FixedBearing => {
    const ray = rays[i] as Ray;
    const at = solution.fit.at[i] as Solution["fit"]["at"][number];
    const back = inverse(sighting.known, solution.at).bearing;
    return {
      name: nameOf(sighting, i),
      known: sighting.known,
      trueDeg: ray.observed,
      declinationDeg: sighting.north === "magnetic" ? (there[i] as NorthsThere).declinationDeg : null,
      convergenceDeg: sighting.north === "grid" ? (there[i] as NorthsThere).convergenceDeg : null,
      fromKnown: trueBearing(back + at.residualDeg),
      distanceM: at.distanceM,
      residualDeg: at.residualDeg,
      normalised: agreement.degreesOfFreedom > 0 ? (normalised[i] ?? null) : null,
      without: without[i] ?? null,
    };
  });
  const fix = { at: solution.at, covariance, ellipse95, bearings, corners, ...agreement, suspect, suspects };
  const disagree = agreement.chance < INCONSISTENT;
  // A single bearing at fault, the others agreeing, is the plainer reason; a common turn is costly to look for.
  const alone = suspects.some((i) => (without[i]?.chance ?? 0) > INCONSISTENT);
  const causes = {
    reversed: disagree ? reversedOf(rays) : null,
    turnedDeg: disagree && !alone ? commonTurnOf(rays, solution.at) : null,
  };
  return { ...fix, warnings: warningsOf(fix, causes, there, unit) };
}
