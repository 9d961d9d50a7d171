/** Bearings against each other: two by two, all but one, and one turned round. */
import { inverse } from "../geodesy/geodesic.ts";
import { backBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
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
