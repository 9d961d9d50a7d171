/** Bearings against each other: two by two, all but one, and one turned round. */
import { inverse } from "../geodesy/geodesic.ts";
import { backBearing, trueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import { chiSquareTail } from "./chi-square.ts";
import type { Corner, FixWithout } from "./fix.ts";
import { agreementOf, INCONSISTENT } from "./judge.ts";
import { bestPlace, bestPlaceNear } from "./least-squares.ts";
import { crossingDeg, type Ray, rayAt } from "./rays.ts";

/** Bearings agree when their disagreement has at least this chance. No source. */
const AGREES = 0.05;

function pairsOf(rays: readonly unknown[]): (readonly [number, number])[] {
  return rays.flatMap((_, i) => rays.slice(i + 1).map((__, k) => [i, i + 1 + k] as const));
}

/** Where the bearings meet two by two, by the same geodesics as the fix. */
export const cornersOf = (rays: readonly Ray[], near: LonLat): Corner[] =>
  pairsOf(rays).map(([i, j]) => {
    const pair = [rays[i] as Ray, rays[j] as Ray] as const;
    const found = bestPlaceNear(pair, near, () => true);
    return {
      pair: [i, j],
      at: typeof found === "string" ? null : found.at,
      crossingDeg: crossingDeg(...pair),
    };
  });

/** The fix of all bearings but one; null when they meet nowhere. */
export function withoutOne(rays: readonly Ray[], left: number, at: LonLat): FixWithout | null {
  const rest = bestPlaceNear(
    rays.filter((_, i) => i !== left),
    at,
    (solution) => agreementOf(solution).chance > INCONSISTENT,
  );
  const ray = rays[left] as Ray;
  if (typeof rest === "string") return null;
  return {
    at: rest.at,
    movedM: inverse(at, rest.at).distanceM,
    chiSquare: agreementOf(rest).chiSquare,
    chance: agreementOf(rest).chance,
    offDeg: rayAt(ray, rest.at).residualDeg,
  };
}

/** The one bearing that, turned round, agrees with the others; null when none does, or more than one. */
export function reversedOf(rays: readonly Ray[]): number | null {
  const agree = rays.flatMap((_, turned) => {
    const found = bestPlace(
      rays.map((ray, i) => (i === turned ? { ...ray, observed: backBearing(ray.observed) } : ray)),
    );
    return typeof found !== "string" && agreementOf(found).chance > AGREES ? [turned] : [];
  });
  return agree.length === 1 ? (agree[0] as number) : null;
}

/** A common turn is looked for this far either way, degrees, in steps as wide as the second. */
const MOST_TURN_DEG = 40;
const TURN_STEP_DEG = 2;
/** Smaller common turns are not told: the errors of single bearings hide them. No source. */
const LEAST_TURN_DEG = 3;

/**
 * By how much all bearings turned together agree, degrees; null when no turn makes them, or only a small one. With three
 * bearings there nearly always is one, so that it says no more than what may be; four or more prove it.
 * A place found this way is one by the angles between the bearings, and fails on the circle through the known points: it is
 * told as a reason for the disagreement, never as the fix.
 */
export function commonTurnOf(rays: readonly Ray[], near: LonLat): number | null {
  const turned = (deg: number): ReturnType<typeof bestPlace> =>
    bestPlaceNear(
      rays.map((ray) => ({ ...ray, observed: trueBearing(ray.observed + deg) })),
      near,
      () => true,
    );
  const costAt = (deg: number): number => {
    const found = turned(deg);
    return typeof found === "string" ? Infinity : found.fit.cost;
  };
  let best = 0;
  let cost = costAt(0);
  // Coarsely all round, then ever finer about the best.
  for (let step = TURN_STEP_DEG, reach = MOST_TURN_DEG; step > 0.01; reach = step, step /= 4) {
    const middle = best;
    for (let deg = middle - reach; deg <= middle + reach; deg += step) {
      const there = costAt(deg);
      if (there < cost) [best, cost] = [deg, there];
    }
  }
  const free = Math.max(1, rays.length - 3);
  return Math.abs(best) >= LEAST_TURN_DEG && chiSquareTail(cost, free) > AGREES ? best : null;
}
