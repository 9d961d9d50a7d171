/**
 * The place that fits bearings best: weighted least squares on the ellipsoid, by Gauss–Newton steps that are shortened
 * as far as they must be.
 * Source: K. Levenberg (1944) and D. W. Marquardt (1963), from memory, for the damping; the bearings themselves are Karney's geodesics.
 */
import { direct } from "../geodesy/geodesic.ts";
import type { LonLat } from "../units/position.ts";
import type { Covariance } from "./ellipse.ts";
import {
  crossingDeg,
  FARTHEST_M,
  fromKnown,
  moved,
  normalOf,
  type Ray,
  weighed,
  type Weighted,
  weightsOf,
} from "./rays.ts";

export interface Solution {
  readonly at: LonLat;
  readonly covariance: Covariance;
  readonly fit: Weighted;
}

const CLOSE_M = 1e-6;
const MOST_STEPS = 100;

/**
 * From a place near enough to the best one; null when the steps come to no rest: the bearings then allow no place that
 * is better than those around it.
 */
export function refine(rays: readonly Ray[], start: LonLat): Solution | null {
  const weights = weightsOf(rays);
  let at = start;
  let fit = weighed(rays, weights, at);
  let damping = 0;
  for (let step = 0; step < MOST_STEPS; step++) {
    const normal = normalOf(fit);
    const [ee, nn] = [normal.ee * (1 + damping), normal.nn * (1 + damping)];
    const det = ee * nn - normal.en * normal.en;
    if (!(det > 0)) return null;
    const east = (nn * normal.e - normal.en * normal.n) / det;
    const north = (ee * normal.n - normal.en * normal.e) / det;
    const long = Math.hypot(east, north);
    if (!(long < FARTHEST_M * 4)) damping = Math.max(1e-3, damping * 10);
    else {
      if (long < CLOSE_M) return solutionAt(at, fit);
      const next = moved(at, east, north);
      const better = weighed(rays, weights, next);
      if (better.cost <= fit.cost) {
        [at, fit, damping] = [next, better, damping < 1e-6 ? 0 : damping / 10];
      } else if (long < 1e-4) return solutionAt(at, fit);
      else damping = Math.max(1e-3, damping * 10);
    }
    if (damping > 1e12 || fit.at.every(({ distanceM }) => distanceM > FARTHEST_M)) return null;
  }
  return null;
}

function solutionAt(at: LonLat, fit: Weighted): Solution | null {
  const { ee, en, nn } = normalOf(fit);
  const det = ee * nn - en * en;
  if (!(det > 0)) return null;
  return { at, fit, covariance: { ee: nn / det, en: -en / det, nn: ee / det } };
}

/** Distances from a known point along its ray at which a start is tried, metres. */
const TRIED_M = Array.from({ length: 15 }, (_, k) => 3 * 2.2 ** k);
/** Starts that are followed to the end: the best of those there are. */
const STARTS_FOLLOWED = 3;
/** Two rays meet when nothing is left over: residuals below this, degrees. */
const MEETS_DEG = 1e-6;
/** Rays that cross at less are as good as parallel, degrees. No source. */
const PARALLEL_DEG = 0.5;

/**
 * The best place for two or more rays, or why there is none: all as good as parallel, two that meet nowhere ahead, or none
 * that fits better than those around it. Each ray is searched along its length for the place the others like best, so that
 * neither a wild bearing nor a known point close by leads to a lesser valley.
 */
export function bestPlace(rays: readonly Ray[]): Solution | "parallel" | "apart" | "restless" {
  if (rays.every((a, i) => rays.slice(i + 1).every((b) => crossingDeg(a, b) < PARALLEL_DEG)))
    return "parallel";
  const weights = weightsOf(rays);
  const costAt = (at: LonLat): number => weighed(rays, weights, at).cost;
  const starts = rays.map((ray) => {
    const tried = TRIED_M.map((metres) => direct(ray.known, fromKnown(ray), metres));
    const costs = tried.map(costAt);
    const best = costs.indexOf(Math.min(...costs));
    return { start: tried[best] as LonLat, cost: costs[best] as number };
  });
  const found = starts
    .sort((a, b) => a.cost - b.cost)
    .slice(0, STARTS_FOLLOWED)
    .map(({ start }) => refine(rays, start))
    .filter((solution) => solution !== null)
    .sort((a, b) => a.fit.cost - b.fit.cost);
  const [best] = found;
  if (rays.length > 2) return best ?? "restless";
  return best && meets(best) ? best : "apart";
}

const meets = ({ fit }: Solution): boolean =>
  fit.at.every(({ residualDeg }) => Math.abs(residualDeg) < MEETS_DEG);

/**
 * As `bestPlace`, for some of the rays of a place already found: followed from there, and searched for only when that does
 * not lead to a good fit.
 * @param isGood whether a place of more than two rays will do
 */
export function bestPlaceNear(
  rays: readonly Ray[],
  near: LonLat,
  isGood: (solution: Solution) => boolean,
): ReturnType<typeof bestPlace> {
  if (crossingDeg(rays[0] as Ray, rays[1] as Ray) < PARALLEL_DEG) return bestPlace(rays);
  const followed = refine(rays, near);
  if (followed && (rays.length > 2 ? isGood(followed) : meets(followed))) return followed;
  return bestPlace(rays);
}
