/** Chance for courses: seeded, the same on every machine. */
import { mixed } from "../legs/odds/deviates.ts";

export interface Chance {
  /** Evenly from 0 up to, not including, 1. */
  next(): number;
  between(low: number, high: number): number;
  /** The same things in another order. */
  shuffled<T>(things: readonly T[]): T[];
}

/** 2³² divided by the golden ratio: steps by it never repeat within 2³². */
const GOLDEN = 0x9e3779b9;

/** @param seed whole number */
export function chanceOf(seed: number): Chance {
  let state = mixed(seed);
  const next = (): number => {
    state = (state + GOLDEN) >>> 0;
    return mixed(state) / 0x1_0000_0000;
  };
  return {
    next,
    between: (low, high) => low + (high - low) * next(),
    shuffled: (things) => {
      const order = [...things];
      for (let i = order.length - 1; i > 0; i--) {
        const j = Math.floor(next() * (i + 1));
        [order[i], order[j]] = [order[j] as (typeof order)[number], order[i] as (typeof order)[number]];
      }
      return order;
    },
  };
}
