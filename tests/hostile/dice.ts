/** Chance that repeats itself. */

export interface Dice {
  /** A whole number from 0 up to, not including, `below`. */
  below(below: number): number;
  one<T>(list: readonly T[]): T;
  /** True once in `n` times. */
  onceIn(n: number): boolean;
}

/** Mulberry32 by Tommy Ettinger (public domain), as it is usually written down. */
export function dice(seed: number): Dice {
  let a = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b);
  const below = (n: number): number => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * n);
  };
  return {
    below,
    one: (list) => list[below(list.length)]!,
    onceIn: (n) => below(n) === 0,
  };
}
