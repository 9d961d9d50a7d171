/** What walkers meet on a leg, in its frame: metres along it and to its right, start at 0, 0, target at its length, 0. */

import { square } from "./exact-math.ts";

/** One line of the ground; several of one key are one thing, noticed or overlooked as a whole. */
export interface OddsLine {
  /** s, t, s, t … metres; at least two places. */
  readonly st: ArrayLike<number>;
  /** Share of walkers who notice it, 0–1. */
  readonly surely: number;
  /** 32-bit whole number naming the thing: each walker's luck with it hangs on this alone. */
  readonly key: number;
}

/** A handrail: its stretches beside the leg. */
export interface OddsRail {
  readonly stretches: readonly ArrayLike<number>[];
  readonly surely: number;
  readonly key: number;
}

/** The bearing turned to one side of a target that lies on a line. */
export interface OddsAimOff {
  /** Parts of the line the target lies on; the nearest to the target is followed. */
  readonly line: readonly OddsLine[];
  readonly side: "left" | "right";
  readonly offsetDeg: number;
  /** How far walkers follow the line before they give up, metres. */
  readonly followM: number;
}

/** A place easily found, gone to first. */
export interface OddsVia extends Pick<OddsAids, "collecting" | "rails" | "stop"> {
  readonly s: number;
  readonly t: number;
  /** How far off it is seen; the target's own distance when left out. */
  readonly sightM?: number;
}

export interface OddsAids {
  /** Lines crossed on the way, which tell how far one has come. */
  readonly collecting?: readonly OddsLine[];
  /** Best first. */
  readonly rails?: readonly OddsRail[];
  /** Parts of the line that tells one has gone too far. */
  readonly stop?: readonly OddsLine[];
  readonly aimOff?: OddsAimOff | null;
  readonly via?: OddsVia | null;
}

/** The frame of a part of the way, from one place of a leg's frame to another. */
export interface Turned {
  readonly lengthM: number;
  st(st: ArrayLike<number>): Float64Array;
  back(s: number, t: number): readonly [s: number, t: number];
}

export function turnedFrame(s0: number, t0: number, s1: number, t1: number): Turned {
  const lengthM = Math.sqrt(square(s1 - s0) + square(t1 - t0));
  const c = lengthM > 0 ? (s1 - s0) / lengthM : 1;
  const d = lengthM > 0 ? (t1 - t0) / lengthM : 0;
  return {
    lengthM,
    st(st) {
      const out = new Float64Array(st.length);
      for (let i = 0; i < st.length; i += 2) {
        const [ds, dt] = [(st[i] as number) - s0, (st[i + 1] as number) - t0];
        out[i] = ds * c + dt * d;
        out[i + 1] = dt * c - ds * d;
      }
      return out;
    },
    back: (s, t) => [s0 + s * c - t * d, t0 + s * d + t * c],
  };
}

/** The same aids seen from another frame; an aim-off and a way by an attack point belong to theirs and are left out. */
export function turnedAids({ collecting, rails, stop }: OddsAids, frame: Turned): OddsAids {
  const lines = (these: readonly OddsLine[] = []): OddsLine[] =>
    these.map((line) => ({ ...line, st: frame.st(line.st) }));
  return {
    collecting: lines(collecting),
    stop: lines(stop),
    rails: (rails ?? []).map((rail) => ({ ...rail, stretches: rail.stretches.map((st) => frame.st(st)) })),
  };
}
