/**
 * Terrain traps: where a fall or a slide that begins on steep ground or at a cliff ends badly.
 *
 * From places spread over each steep stretch and each cliff in the zone the fall line is followed downhill, a step of
 * the slope lattice at a time, for at most 150 m or until the ground lies flatter than 10°. It ends in a trap when, on
 * the way, it meets a stream or river, open water or another cliff, or when the ground ahead faces back at it within
 * 40 m: a gully. Common practice, no source for the figures.
 *
 * What it cannot do: a model smooths ground, so that gullies and steps narrower than two or three of its samples are not
 * seen; how far snow, stones or a person really go is not computed; trees, boulders and holes are not known.
 */
import { DEG } from "../../units/angle.ts";
import type { Kind } from "../../map/kinds.ts";
import type { SlopeField } from "./hazards-slope.ts";

/** What lies below a steep stretch or a cliff. */
export interface TerrainTrap {
  /** "draw" is a gully the ground alone forms. */
  readonly kind: Extract<Kind, "stream" | "river" | "water" | "cliff" | "draw">;
  readonly name: string | null;
  /** How far down the fall line it is met, metres on the map. */
  readonly belowM: number;
  /** Where it is met, metres along and right of the leg. */
  readonly atS: number;
  readonly atT: number;
}

/** A line something can end in: s, t … */
export interface TrapLine {
  readonly kind: "stream" | "river" | "water" | "cliff";
  readonly name: string | null;
  readonly st: Float64Array;
}

export const TRAP_REACH_M = 150;
const RUNOUT_DEG = 10;
const GULLY_M = 40;
/** Ground that faces back: within 60° of straight against the way down, and steep enough to hold what comes. */
const FACES_BACK_DEG = 120;
const STARTS = 8;
/** A cliff is not its own trap: within this of the start its line does not count. */
const OWN_M = 10;

/**
 * The nearest trap below places of the frame (s, t …); null for none.
 * @param ownCliff the places are on a cliff: lines of cliffs right at the start do not count
 */
export function trapBelow(
  field: SlopeField,
  places: Float64Array,
  lines: readonly TrapLine[],
  ownCliff: boolean,
): TerrainTrap | null {
  const count = places.length >> 1;
  let nearest: TerrainTrap | null = null;
  for (let k = 0; k < Math.min(STARTS, count); k++) {
    const i = count <= STARTS ? k : Math.floor(((k + 0.5) * count) / STARTS);
    const trap = followDown(
      field,
      places[2 * i] as number,
      places[2 * i + 1] as number,
      lines,
      nearest?.belowM ?? TRAP_REACH_M,
      ownCliff,
    );
    if (trap && (!nearest || trap.belowM < nearest.belowM)) nearest = trap;
  }
  return nearest;
}

function followDown(
  field: SlopeField,
  startS: number,
  startT: number,
  lines: readonly TrapLine[],
  reachM: number,
  ownCliff: boolean,
): TerrainTrap | null {
  const stepM = Math.min(20, Math.max(5, field.lattice.stepM));
  const near = lines.filter(({ st }) => comesNear(st, startS, startT, reachM));
  let [s, t, gone] = [startS, startT, 0];
  while (gone < reachM) {
    const slope = field.slopeDeg(s, t);
    if (!(slope >= RUNOUT_DEG)) return null;
    const down = field.aspectDeg(s, t);
    const turn = (down + field.northDeg) * DEG;
    const [ds, dt] = [Math.cos(turn) * stepM, Math.sin(turn) * stepM];
    const met = firstMet(near, s, t, s + ds, t + dt, gone, stepM, ownCliff);
    if (met && met.belowM <= reachM) return met;
    if (gone > 0 || slope >= 15)
      for (let ahead = 2 * stepM; ahead <= Math.max(GULLY_M, 3 * stepM); ahead += stepM) {
        const [s1, t1] = [s + (ds * ahead) / stepM, t + (dt * ahead) / stepM];
        if (!(field.slopeDeg(s1, t1) >= 15)) continue;
        const apart = Math.abs(((field.aspectDeg(s1, t1) - down + 540) % 360) - 180);
        if (apart < FACES_BACK_DEG) break;
        const belowM = gone + ahead / 2;
        if (belowM > reachM) break;
        return { kind: "draw", name: null, belowM, atS: s + (s1 - s) / 2, atT: t + (t1 - t) / 2 };
      }
    s += ds;
    t += dt;
    gone += stepM;
  }
  return null;
}

function comesNear(st: Float64Array, s: number, t: number, reachM: number): boolean {
  let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < st.length; i += 2) {
    minS = Math.min(minS, st[i] as number);
    maxS = Math.max(maxS, st[i] as number);
    minT = Math.min(minT, st[i + 1] as number);
    maxT = Math.max(maxT, st[i + 1] as number);
  }
  return minS <= s + reachM && maxS >= s - reachM && minT <= t + reachM && maxT >= t - reachM;
}

function firstMet(
  lines: readonly TrapLine[],
  s0: number,
  t0: number,
  s1: number,
  t1: number,
  gone: number,
  stepM: number,
  ownCliff: boolean,
): TerrainTrap | null {
  let best: TerrainTrap | null = null;
  for (const { kind, name, st } of lines)
    for (let i = 0; i + 3 < st.length; i += 2) {
      const [as, at, bs, bt] = [
        st[i] as number,
        st[i + 1] as number,
        st[i + 2] as number,
        st[i + 3] as number,
      ];
      const cross = (s1 - s0) * (bt - at) - (t1 - t0) * (bs - as);
      if (cross === 0) continue;
      const f = ((as - s0) * (bt - at) - (at - t0) * (bs - as)) / cross;
      const g = ((as - s0) * (t1 - t0) - (at - t0) * (s1 - s0)) / cross;
      if (f < 0 || f > 1 || g < 0 || g > 1) continue;
      const belowM = gone + f * stepM;
      if (kind === "cliff" && ownCliff && belowM < OWN_M) continue;
      if (!best || belowM < best.belowM)
        best = { kind, name, belowM, atS: s0 + f * (s1 - s0), atT: t0 + f * (t1 - t0) };
    }
  return best;
}
