/**
 * Between which two contours a place lies, and how high it is by its distance from them: found by looking along rays
 * until they meet contours. A contour is crossed from one side to the other, so that the order in which levels come
 * says on which side of the first one the place lies, however often a ray crosses the same level.
 */
import { type Estimate, betweenContours } from "./contour-error.ts";
import type { FramedContours, Hit } from "./framed-contours.ts";

/** A height known at one place: a spot height or a peak, in the leg's frame. */
export interface SpotInFrame {
  readonly s: number;
  readonly t: number;
  readonly levelM: number;
}

/** What a leg is surrounded by, as far as some distance. */
export interface Surroundings {
  readonly contours: FramedContours;
  readonly spots: readonly SpotInFrame[];
  readonly intervalM: number;
  /** How far to look, metres. */
  readonly reachM: number;
}

export interface Band {
  readonly lowM: number;
  readonly highM: number;
}

/** What each ray meets, nearest first. */
export type Rays = readonly (readonly Hit[])[];

/** Rays from a place on the leg, turned evenly from the leg's own direction. */
export function lookAround(sM: number, { contours, reachM }: Surroundings, rays = 8): Rays {
  return Array.from({ length: rays }, (_, i) => {
    const angle = (2 * Math.PI * i) / rays;
    return contours.hits(sM, 0, sM + reachM * Math.cos(angle), reachM * Math.sin(angle));
  });
}

/**
 * The band a place lies in: between the levels of the contours next to it where these differ; else on the side of the
 * one level next to it on which the order of levels farther off, or a spot height in view, puts it. Null when neither
 * tells.
 */
export function bandFrom(sM: number, rays: Rays, around: Surroundings): Band | null {
  const { intervalM } = around;
  const levels = rays.flatMap((hits) => hits.slice(0, 1)).map((h) => h.levelM);
  const [low, high] = [Math.min(...levels), Math.max(...levels)];
  if (low < high) return { lowM: low, highM: high };
  if (levels.length === 0) return null;
  const beside = (above: boolean): Band =>
    above ? { lowM: low, highM: low + intervalM } : { lowM: low - intervalM, highM: low };
  for (const hits of rays) {
    const turn = hits.findIndex((h) => h.levelM !== low);
    // An even number of passages through the level leaves us on the side the ray ends on.
    if (turn > 0) return beside((hits[turn] as Hit).levelM > low === (turn % 2 === 0));
  }
  const spot = nearestSpot(sM, low - intervalM, low + intervalM, around);
  return spot && spot.levelM !== low ? beside(spot.levelM > low) : null;
}

/**
 * Height of a place in a band: in proportion to its distances from the nearest contour, spot height or peak of either
 * side. Where only one side is near, on from it with half the slope found beyond it, at most to the middle of the
 * band, which no height of the band is farther from than half its width.
 *
 * Between two sides the error is that of `betweenContours`. Where one side is open the ground may rise from the near
 * contour not at all, or twice as fast as beyond it, but never out of the band.
 */
export function heightInBand(sM: number, { lowM, highM }: Band, rays: Rays, around: Surroundings): Estimate {
  let low = { atM: Infinity, levelM: lowM };
  let high = { atM: Infinity, levelM: highM };
  for (const [hit] of rays) {
    if (!hit) continue;
    if (hit.levelM === lowM && hit.atM < low.atM) low = hit;
    if (hit.levelM === highM && hit.atM < high.atM) high = hit;
  }
  const spot = nearestSpot(sM, lowM, highM, around);
  if (spot && spot.atM < 1) return { heightM: spot.levelM, errorM: 0 };
  // A spot height stands for the side that no contour shows.
  if (spot && high.atM === Infinity && low.atM < Infinity) high = spot;
  else if (spot && low.atM === Infinity && high.atM < Infinity) low = spot;
  if (low.atM < Infinity && high.atM < Infinity) {
    const widthM = high.levelM - low.levelM;
    const share = low.atM / (low.atM + high.atM);
    return { heightM: low.levelM + widthM * share, errorM: betweenContours(widthM, share) };
  }
  const middleM = (highM - lowM) / 2;
  if (low.atM === Infinity && high.atM === Infinity) return { heightM: lowM + middleM, errorM: middleM };
  const near = low.atM < Infinity ? low : high;
  const steadyM = near.atM * slopeBeyond(rays, near);
  const riseM = Math.min(middleM, steadyM / 2);
  return {
    heightM: near === low ? lowM + riseM : highM - riseM,
    errorM: Math.min(highM - lowM - riseM, 1.5 * steadyM),
  };
}

/** Slope on the far side of a contour: level difference over distance to the next contour on the nearest ray. */
function slopeBeyond(rays: Rays, near: Hit): number {
  const next = rays.find((hits) => hits[0] === near)?.[1];
  return next && next.levelM !== near.levelM
    ? Math.abs(next.levelM - near.levelM) / (next.atM - near.atM)
    : Infinity;
}

/** The nearest spot height or peak within the band, with no contour between. */
function nearestSpot(sM: number, lowM: number, highM: number, around: Surroundings): Hit | null {
  let nearest: Hit | null = null;
  for (const { s, t, levelM } of around.spots) {
    const atM = Math.hypot(s - sM, t);
    if (!(levelM > lowM && levelM < highM) || atM > around.reachM || (nearest && nearest.atM <= atM))
      continue;
    if (around.contours.hits(sM, 0, s, t).length === 0) nearest = { atM, levelM };
  }
  return nearest;
}
