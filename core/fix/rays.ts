/**
 * Bearings as a place must meet them: what each would read from there, and how it turns as the place moves.
 * A ray of a resection is sighted from the place looked for towards the known point, one of an intersection the other
 * way; everything else is alike.
 */
import { parallelRadius } from "../geodesy/ellipsoid.ts";
import { direct, inverse } from "../geodesy/geodesic.ts";
import { DEG, normalise180, type TrueBearing, trueBearing } from "../units/angle.ts";
import type { LonLat } from "../units/position.ts";
import type { Covariance } from "./ellipse.ts";

export interface Ray {
  readonly known: LonLat;
  readonly from: "place" | "known";
  readonly observed: TrueBearing;
  /** Standard deviation of its own error, degrees, and of the part it shares with the others. */
  readonly errorDeg: number;
  readonly commonErrorDeg: number;
}

/** Nearer to a known point than this its bearing says nothing. */
const NEAREST_M = 0.01;

export interface RayAt {
  /** Observed minus what it would be, −180 up to 180 degrees. */
  readonly residualDeg: number;
  readonly distanceM: number;
  /** How the bearing turns when the place moves a metre east or north, radians. */
  readonly perEastM: number;
  readonly perNorthM: number;
}

/**
 * A ray seen from a place. The turning is that of plane geometry, cos α / s across the line, and for bearings taken at the
 * place that of its own meridian too, tan φ / N a metre east: the curvature left out is (s / R)² / 3, 2e-5 at 50 km.
 * Source: plane geometry, and the convergence of meridians to first order, λ sin φ (closed form on the sphere).
 */
export function rayAt(ray: Ray, at: LonLat): RayAt {
  const toKnown = inverse(at, ray.known);
  const distanceM = Math.max(NEAREST_M, toKnown.distanceM);
  const alpha = toKnown.bearing * DEG;
  const [perEastM, perNorthM] = [-Math.cos(alpha) / distanceM, Math.sin(alpha) / distanceM];
  const there = ray.from === "place" ? toKnown.bearing : trueBearing(toKnown.arrivalBearing + 180);
  const meridians = ray.from === "place" ? Math.sin(at[1] * DEG) / parallelRadius(at[1]) : 0;
  return {
    residualDeg: normalise180(ray.observed - there),
    distanceM: toKnown.distanceM,
    perEastM: perEastM + meridians,
    perNorthM,
  };
}

/** The place `eastM`, `northM` off another: along the geodesic. */
export const moved = (at: LonLat, eastM: number, northM: number): LonLat =>
  direct(at, trueBearing(Math.atan2(eastM, northM) / DEG), Math.hypot(eastM, northM));

/** Metres east and north from one place to another, along the geodesic. */
export function offset(from: LonLat, to: LonLat): readonly [eastM: number, northM: number] {
  const { distanceM, bearing } = inverse(from, to);
  return [distanceM * Math.sin(bearing * DEG), distanceM * Math.cos(bearing * DEG)];
}

/** The line of places a ray allows, from its known point on: true bearing there, but for the meridians' drawing together. */
export const fromKnown = ({ observed, from }: Ray): TrueBearing =>
  trueBearing(from === "place" ? observed + 180 : observed);

/** The angle at which two rays cross, 0–90°: below half a degree or so they are as good as parallel. */
export function crossingDeg(a: Ray, b: Ray): number {
  const between = Math.abs(normalise180(a.observed - b.observed));
  return Math.min(between, 180 - between);
}

/** No compass bearing is of use as far away as this. No source. */
export const FARTHEST_M = 300_000;

export interface Weighted {
  /** Residuals, degrees, and distances, metres, ray by ray. */
  readonly at: readonly RayAt[];
  /** Sum of squares: residuals by the inverse of their covariance. */
  readonly cost: number;
  /** Weight matrix, 1/rad². */
  readonly weights: readonly (readonly number[])[];
}

/**
 * The inverse of the covariance of the readings: own errors on the diagonal, the common one between all.
 * Source: Sherman and Morrison (1950, from memory), inverse of a diagonal matrix plus a product of a vector with itself.
 */
export function weightsOf(rays: readonly Ray[]): readonly (readonly number[])[] {
  const own = rays.map(({ errorDeg }) => 1 / (errorDeg * DEG) ** 2);
  const shared = rays.map(({ commonErrorDeg }, i) => (own[i] as number) * commonErrorDeg * DEG);
  const whole =
    1 + rays.reduce((sum, { commonErrorDeg }, i) => sum + (shared[i] as number) * commonErrorDeg * DEG, 0);
  return rays.map((_, i) =>
    rays.map(
      (__, j) => (i === j ? (own[i] as number) : 0) - ((shared[i] as number) * (shared[j] as number)) / whole,
    ),
  );
}

export function weighed(
  rays: readonly Ray[],
  weights: readonly (readonly number[])[],
  place: LonLat,
): Weighted {
  const at = rays.map((ray) => rayAt(ray, place));
  let cost = 0;
  at.forEach((a, i) =>
    at.forEach((b, j) => {
      cost += a.residualDeg * DEG * ((weights[i] as number[])[j] as number) * b.residualDeg * DEG;
    }),
  );
  return { at, cost, weights };
}

export interface Normal extends Covariance {
  /** Right-hand side, east and north. */
  readonly e: number;
  readonly n: number;
}

/** Normal matrix Jᵀ W J (as a "covariance" of inverse metres) and right-hand side Jᵀ W r. */
export function normalOf({ at, weights }: Weighted): Normal {
  let [ee, en, nn, e, n] = [0, 0, 0, 0, 0];
  at.forEach((a, i) =>
    at.forEach((b, j) => {
      const w = (weights[i] as number[])[j] as number;
      ee += a.perEastM * w * b.perEastM;
      en += a.perEastM * w * b.perNorthM;
      nn += a.perNorthM * w * b.perNorthM;
      e += a.perEastM * w * b.residualDeg * DEG;
      n += a.perNorthM * w * b.residualDeg * DEG;
    }),
  );
  return { ee, en, nn, e, n };
}
