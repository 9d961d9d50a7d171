/** The place and its norths together: magnetic and grid bearings depend on where they were taken, which is what is looked for. */
import { Fault } from "../fault.ts";
import { inverse } from "../geodesy/geodesic.ts";
import type { LonLat } from "../units/position.ts";
import { bestPlace, refine, type Solution } from "./least-squares.ts";
import type { Ray } from "./rays.ts";
import { errorOf, type NorthsOf, type NorthsThere, type Sighting, trueOf } from "./sighting.ts";
import { noMeeting } from "./words.ts";

/** Norths are worked out anew until the place moves no more than this, metres. */
const SETTLED_M = 1e-4;
const MOST_ROUNDS = 20;

export interface Settled {
  readonly solution: Solution;
  readonly rays: readonly Ray[];
  readonly there: readonly NorthsThere[];
}

/**
 * The place that fits bearings best, with the norths of the place where each was taken.
 * @param from where the bearings were taken: at the place looked for, or at the known points
 * @throws Fault "bad-argument" when the bearings meet nowhere, and as `norths` does
 */
export function settle(sightings: readonly Sighting[], norths: NorthsOf, from: Ray["from"]): Settled {
  const raysAt = (place: LonLat): Omit<Settled, "solution"> => {
    const own = from === "place" ? norths(place) : null;
    const there = sightings.map(({ known }) => own ?? norths(known));
    const rays = sightings.map((sighting, i): Ray => {
      const here = there[i] as NorthsThere;
      return {
        known: sighting.known,
        from,
        observed: trueOf(sighting, here),
        errorDeg: errorOf(sighting),
        commonErrorDeg: sighting.north === "magnetic" ? here.commonErrorDeg : 0,
      };
    });
    return { rays, there };
  };
  // Norths of the place itself are not known yet. Those of a known point do, unless the place lies so close to another that
  // its bearing turns past it: then that one's are right.
  let now = raysAt((sightings[0] as Sighting).known);
  let found = bestPlace(now.rays);
  for (const { known } of from === "place" ? sightings.slice(1) : []) {
    if (found !== "apart") break;
    now = raysAt(known);
    found = bestPlace(now.rays);
  }
  let solution = solved(found);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    now = raysAt(solution.at);
    const next: Solution = solved(refine(now.rays, solution.at) ?? bestPlace(now.rays));
    const movedM = inverse(solution.at, next.at).distanceM;
    solution = next;
    if (movedM < SETTLED_M) break;
  }
  return { solution, ...now };
}

function solved(found: Solution | keyof typeof noMeeting): Solution {
  if (typeof found !== "string") return found;
  const { what, remedy } = noMeeting[found];
  throw new Fault("bad-argument", what, null, remedy);
}
