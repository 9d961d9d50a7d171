/** A handrail as a table: how far to the side it runs at each place along the leg, every few metres. */
import type { OddsRail } from "./scene.ts";

const STEP_M = 5;
/** Not worth leaving one's bearing for. */
const SHORTEST_M = 20;

export interface RailTable {
  readonly fromS: number;
  readonly toS: number;
  readonly stepM: number;
  readonly offsets: Float64Array;
  /** Where the target first comes in sight on it; Infinity when it does not. */
  readonly seenFromS: number;
  readonly surely: number;
  readonly key: number;
}

/**
 * The part of a rail between the start and the target's height; null when it is too short to follow. Where it doubles
 * back the nearest to where it was is taken, across gaps a straight line.
 */
export function railTable(rail: OddsRail, lengthM: number, sightM: number): RailTable | null {
  let [low, high] = [Infinity, -Infinity];
  for (const st of rail.stretches)
    for (let i = 0; i < st.length; i += 2) {
      low = Math.min(low, st[i] as number);
      high = Math.max(high, st[i] as number);
    }
  const fromS = Math.max(0, low);
  const toS = Math.min(lengthM, high);
  if (!(toS - fromS >= SHORTEST_M)) return null;
  const steps = Math.ceil((toS - fromS) / STEP_M);
  const stepM = (toS - fromS) / steps;
  const offsets = new Float64Array(steps + 1).fill(NaN);
  let before = NaN;
  for (let k = 0; k <= steps; k++) {
    // A hair inside, so that the ends are met.
    const s = Math.min(toS - 1e-6, Math.max(fromS + 1e-6, fromS + k * stepM));
    for (const st of rail.stretches) {
      for (let i = 0; i + 3 < st.length; i += 2) {
        const [s0, s1] = [st[i] as number, st[i + 2] as number];
        if (s0 === s1 || s < Math.min(s0, s1) || s > Math.max(s0, s1)) continue;
        const t0 = st[i + 1] as number;
        const t = t0 + ((s - s0) / (s1 - s0)) * ((st[i + 3] as number) - t0);
        const known = offsets[k] as number;
        const from = Number.isNaN(before) ? 0 : before;
        if (Number.isNaN(known) || Math.abs(t - from) < Math.abs(known - from)) offsets[k] = t;
      }
    }
    if (!Number.isNaN(offsets[k])) before = offsets[k] as number;
  }
  fillGaps(offsets);
  let seenFromS = Infinity;
  for (let k = 0; k <= steps && seenFromS === Infinity; k++) {
    const [ds, t] = [lengthM - fromS - k * stepM, offsets[k] as number];
    if (ds * ds + t * t <= sightM * sightM) seenFromS = fromS + k * stepM;
  }
  return { fromS, toS, stepM, offsets, seenFromS, surely: rail.surely, key: rail.key };
}

function fillGaps(offsets: Float64Array): void {
  let last = -1;
  for (let k = 0; k <= offsets.length; k++) {
    if (k < offsets.length && Number.isNaN(offsets[k])) continue;
    const a = offsets[last < 0 ? k : last] as number;
    const b = offsets[k < offsets.length ? k : last] as number;
    for (let j = last + 1; j < k; j++) offsets[j] = last < 0 ? b : a + ((b - a) * (j - last)) / (k - last);
    last = k;
  }
}

/** Offset at a place along the leg; that of the nearer end outside the rail. */
export function railAt({ fromS, stepM, offsets }: RailTable, s: number): number {
  const x = (s - fromS) / stepM;
  if (x <= 0) return offsets[0] as number;
  const k = Math.floor(x);
  if (k >= offsets.length - 1) return offsets[offsets.length - 1] as number;
  const a = offsets[k] as number;
  return a + (x - k) * ((offsets[k + 1] as number) - a);
}
