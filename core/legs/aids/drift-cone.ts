/**
 * The drift cone: where walkers are who set out from the start of a leg on its bearing and stray from it.
 * Rays leave the start at equally spaced angles; each stands for a share of walkers that follows a normal spread of
 * the heading with the cone's half-angle as two standard deviations (95 % of walkers), cut off at the cone's edge.
 * Common practice for the cone, no source; the spread is an assumption, stated beside the figure.
 */
import { DEG } from "../../units/angle.ts";

export interface Ray {
  /** Right of the leg's bearing positive. */
  readonly angleDeg: number;
  readonly cos: number;
  readonly sin: number;
  /** Share of all walkers; the shares of a fan add up to 1. */
  readonly share: number;
}

/** Odd, so that one ray runs along the leg itself. One ray of 181 stands for at most 0.9 % of walkers. */
const RAYS = 181;

/** The rays of a cone, from its left edge to its right. */
export function driftFan(halfAngleDeg: number): readonly Ray[] {
  const raw = Array.from({ length: RAYS }, (_, i) => {
    const part = (2 * i) / (RAYS - 1) - 1;
    const angle = part * halfAngleDeg * DEG;
    // exp(−½(δ/σ)²) with σ half the half-angle.
    return {
      angleDeg: part * halfAngleDeg,
      cos: Math.cos(angle),
      sin: Math.sin(angle),
      share: Math.exp(-2 * part * part),
    };
  });
  const sum = raw.reduce((total, { share }) => total + share, 0);
  return raw.map((ray) => ({ ...ray, share: ray.share / sum }));
}
