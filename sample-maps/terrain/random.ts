/**
 * Seeded random numbers that are the same on every machine: 32-bit integer arithmetic only.
 * Generator: "splitmix32", the 32-bit sibling of SplitMix (Steele, Lea, Flood, "Fast splittable pseudorandom number
 * generators", OOPSLA 2014), with the finaliser constants of MurmurHash3's fmix32 family.
 */

/** Mixes a 32-bit integer so that every input bit touches every output bit. */
export function mix32(value: number): number {
  let h = value | 0;
  h = Math.imul(h ^ (h >>> 16), 0x21f0aaad);
  h = Math.imul(h ^ (h >>> 15), 0x735a2d97);
  return (h ^ (h >>> 15)) >>> 0;
}

/** A source of numbers in 0 ≤ x < 1, the same sequence for the same seed. */
export function seededRandom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    return mix32(state) / 4294967296;
  };
}

/** One number in 0 ≤ x < 1 for a lattice place: no order of calls to keep. */
export function latticeRandom(seed: number, column: number, row: number): number {
  return mix32(mix32(mix32(seed) ^ Math.imul(column, 0x27d4eb2d)) ^ Math.imul(row, 0x165667b1)) / 4294967296;
}
