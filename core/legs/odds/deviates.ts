/**
 * The chance in the odds: numbers drawn by walker and by purpose, never in sequence. Walker 17's third hop is off by the
 * same amount whatever else the leg has, so that two plans differ by their aids and not by their luck.
 */
import { lnOfShare } from "./exact-math.ts";

/** Any whole number well mixed into 32 bits (the closing steps of Appleby's MurmurHash3, public domain). */
export function mixed(n: number): number {
  let x = n | 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/** 2³² divided by the golden ratio: steps by it spread purposes over all 32 bits. */
const GOLDEN = 0x9e3779b9;
const UNIT = 1 / 0x1_0000_0000;

/** What all draws of one walker start from. */
export const walkerBase = (seed: number, walker: number): number =>
  mixed(mixed(seed) ^ mixed(Math.imul(walker + 1, GOLDEN)));

/** An even deviate, 0 < u < 1, for one purpose of one walker. */
export const evenDeviate = (base: number, purpose: number): number =>
  (mixed(base + Math.imul(purpose + 1, GOLDEN)) + 0.5) * UNIT;

/** A standard normal deviate for one purpose of one walker. */
export const normalDeviate = (base: number, purpose: number): number =>
  normalQuantile(evenDeviate(base, purpose));

/**
 * Place i of a sequence that fills 0–1 evenly, shifted by the seed: for the few deviates that decide most. Steps are
 * 32-bit whole numbers, so that nothing is rounded.
 * Source: the additive recurrence (Kronecker sequence), shifted at random after Cranley and Patterson (1976).
 */
export const evenlySpread = (i: number, step: number, shift: number): number =>
  (((Math.imul(i + 1, step) + shift) >>> 0) + 0.5) * UNIT;
/** 2³² times 1/g and 1/g² with g³ = g + 1, the pair that fills the unit square most evenly; and the fractions of √2 and √3. */
export const STEPS = [0xc13fa9a9, 0x91e10da5, 0x6a09e667, 0xbb67ae85] as const;

/**
 * The standard normal deviate below which a share p of all lie, 0 < p < 1; within 1e-6.
 * Source: M. J. Wichura, Algorithm AS 241 (PPND7), Applied Statistics 37 (1988), 477–484.
 */
export function normalQuantile(p: number): number {
  const q = p - 0.5;
  if (q <= 0.425 && q >= -0.425) {
    const r = 0.180625 - q * q;
    return (
      (q * (((59.10937472 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179)) /
      (((67.1875636 * r + 78.757757664) * r + 17.895169469) * r + 1)
    );
  }
  let r = Math.sqrt(-lnOfShare(q < 0 ? p : 1 - p));
  let z: number;
  if (r <= 5) {
    r -= 1.6;
    z =
      (((0.17023821103 * r + 1.3067284816) * r + 2.75681539) * r + 1.4234372777) /
      ((0.12021132975 * r + 0.7370016425) * r + 1);
  } else {
    r -= 5;
    z =
      (((0.017337203997 * r + 0.42868294337) * r + 3.081226386) * r + 6.657905115) /
      ((0.012258202635 * r + 0.24197894225) * r + 1);
  }
  return q < 0 ? -z : z;
}
