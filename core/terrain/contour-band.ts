/**
 * Between which two contours a place lies, and how high it is by its distance from them: found by looking along rays
 * until they meet contours. A contour is crossed from one side to the other, so that the order in which levels come
 * says on which side of the first one the place lies, however often a ray crosses the same level.
 */
import { type LegFrame, legFrame } from "../geodesy/leg-frame.ts";
import { crossingsOf } from "../map/crossings.ts";
import type { LineFeature, PointFeature } from "../map/features.ts";

/** What a place is surrounded by. */
export interface Surroundings {
  /** Contours whose elevation is known. */
  readonly contours: readonly LineFeature[];
  /** Spot heights and peaks. */
  readonly heights: readonly PointFeature[];
  readonly intervalM: number;
  /** How far to look, metres. */
  readonly reachM: number;
}

export interface Band {
  readonly lowM: number;
  readonly highM: number;
}

/** What one ray meets, nearest first. */
interface Hit {
  readonly atM: number;
  readonly levelM: number;
}

const RAYS = 8;

/** Rays from a place on the leg, turned evenly from the leg's own direction. */
export function lookAround(frame: LegFrame, sM: number, around: Surroundings): Hit[][] {
  const here = frame.toLonLat(sM, 0);
  return Array.from({ length: RAYS }, (_, i) => {
    const angle = (2 * Math.PI * i) / RAYS;
    const there = frame.toLonLat(sM + around.reachM * Math.cos(angle), around.reachM * Math.sin(angle));
    return crossingsOf(legFrame(here, there), around.contours).map((c) => ({ atM: c.atM, levelM: c.line.elevationM }));
  });
}

/** The band a place lies in; null when the rays do not tell. */
export function bandFrom(rays: readonly Hit[][], intervalM: number): Band | null {
  const first = rays.flatMap((hits) => hits.slice(0, 1));
  const levels = first.map((h) => h.levelM);
  const [low, high] = [Math.min(...levels), Math.max(...levels)];
  if (low < high) return { lowM: low, highM: high };
  for (const hits of rays) {
    const at = hits[0]?.levelM;
    const turn = hits.findIndex((h) => h.levelM !== at);
    if (at === undefined || turn === -1) continue;
    const towardsHigher = (hits[turn] as Hit).levelM > at;
    // An even number of passages through the level leaves us on the side the ray ends on.
    const above = towardsHigher === (turn % 2 === 0);
    return above ? { lowM: at, highM: at + intervalM } : { lowM: at - intervalM, highM: at };
  }
  return null;
}

/**
 * Height of a place in a band: in proportion to its distances from the nearest contour, spot height or peak of either
 * side. Where only one side is near, on from it with half the slope found beyond it, at most to the middle of the
 * band, which no height of the band is farther from than half its width.
 */
export function heightInBand(frame: LegFrame, sM: number, band: Band, rays: readonly Hit[][], around: Surroundings): number {
  const { lowM, highM } = band;
  const middle = (lowM + highM) / 2;
  let low = { atM: Infinity, levelM: lowM };
  let high = { atM: Infinity, levelM: highM };
  for (const [hit] of rays) {
    if (!hit) continue;
    if (hit.levelM === lowM && hit.atM < low.atM) low = hit;
    if (hit.levelM === highM && hit.atM < high.atM) high = hit;
  }
  for (const spot of spotsNear(frame, sM, band, around)) {
    if (spot.atM < 1) return spot.levelM;
    // A spot height stands for the side that no contour shows.
    if (high.atM === Infinity && low.atM < Infinity) high = spot;
    else if (low.atM === Infinity && high.atM < Infinity) low = spot;
  }
  if (low.atM < Infinity && high.atM < Infinity) return low.levelM + ((high.levelM - low.levelM) * low.atM) / (low.atM + high.atM);
  if (low.atM === Infinity && high.atM === Infinity) return middle;
  const near = low.atM < Infinity ? low : high;
  const rise = Math.min((highM - lowM) / 2, (near.atM * slopeBeyond(rays, near)) / 2);
  return near === low ? lowM + rise : highM - rise;
}

/** Slope on the far side of a contour: level difference over distance to the next contour on the nearest ray. */
function slopeBeyond(rays: readonly Hit[][], near: Hit): number {
  const next = rays.find((hits) => hits[0] === near)?.[1];
  return next && next.levelM !== near.levelM ? Math.abs(next.levelM - near.levelM) / (next.atM - near.atM) : Infinity;
}

/** Spot heights and peaks within the band with no contour between, nearest first. */
function spotsNear(frame: LegFrame, sM: number, band: Band, around: Surroundings): Hit[] {
  const here = frame.toLonLat(sM, 0);
  const near: Hit[] = [];
  for (const { lonLat, elevationM } of around.heights) {
    if (!(elevationM > band.lowM && elevationM < band.highM)) continue;
    const [s, t] = frame.toFrame(lonLat);
    const atM = Math.hypot(s - sM, t);
    if (atM > around.reachM) continue;
    if (atM < 1 || crossingsOf(legFrame(here, lonLat), around.contours).length === 0) near.push({ atM, levelM: elevationM });
  }
  return near.sort((a, b) => a.atM - b.atM);
}
