/**
 * The escape bearing: the one whole bearing that, from anywhere on the leg, ends on a big line within reach, with
 * nothing dangerous on the way, and on which the farthest one may have to walk is least.
 *
 * A bearing that still does so the drift's angle, and half of it, to either side goes before one that does not: nobody
 * in a hurry keeps a bearing to the degree. Common practice, no source. A compass bearing is followed here as a straight
 * line in the leg's frame: over 3 km that is within a metre of it up to 60° of latitude.
 */
import { inverse } from "../../geodesy/geodesic.ts";
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Kind } from "../../map/kinds.ts";
import { type TrueBearing, trueBearing } from "../../units/angle.ts";
import type { LengthUnit } from "../../units/format.ts";
import { type Bbox, bboxOf, growBbox, type LonLat } from "../../units/position.ts";
import { lengthInNote } from "../leg-words.ts";
import { kindAndName, kindWord } from "../line-kinds.ts";
import {
  type EscapeGround,
  type EscapeProblem,
  escapeProblem,
  type EscapeSettings,
  nextFarM,
} from "./escape-problem.ts";
import type { Source } from "./escape-lines.ts";
import { partlyWords } from "./escape-words.ts";

export type { EscapeGround, EscapeSettings } from "./escape-problem.ts";

/** No source: an hour's walk over rough ground. */
export const DEFAULT_ESCAPE_REACH_M = 3000;

export interface EscapeEnd extends Source {
  /** Share of the leg from which it is the one met. */
  readonly share: number;
}

export interface Escape {
  /** Whole degrees. */
  readonly bearingTrueDeg: TrueBearing;
  /** The line met from the most of the leg. */
  readonly kind: Kind;
  readonly name: string | null;
  /** The farthest one may have to walk on the bearing, metres. */
  readonly worstM: number;
  /** The same when one strays by as much as the drift; null when one may then miss the line or meet a danger. */
  readonly worstDriftedM: number | null;
  /** Every line met, from the one met most. */
  readonly ends: readonly EscapeEnd[];
  /** What is crossed on the way, each once. */
  readonly between: readonly Source[];
  /** The parts of the lines that are met, longitude, latitude … */
  readonly stretches: readonly Float64Array[];
}

export interface EscapeFinding {
  readonly escape: Escape | null;
  readonly notes: readonly string[];
}

type Wanted = EscapeSettings & { readonly lengthUnit?: LengthUnit };

/**
 * The box that holds all an escape bearing looks at.
 * @throws Fault "bad-argument" for a position that is none
 */
export function escapeSearchBox(
  from: LonLat,
  to: LonLat,
  { escapeReachM }: Pick<EscapeSettings, "escapeReachM">,
): Bbox {
  inverse(from, to);
  const unrolled: LonLat = to[0] - from[0] > 180 ? [-180, to[1]] : from[0] - to[0] > 180 ? [180, to[1]] : to;
  return growBbox(bboxOf([from, unrolled]) as Bbox, escapeReachM);
}

/** The escape bearing of one leg; null, with a reason, when no bearing serves all of it. */
export function escapeOf(frame: LegFrame, ground: EscapeGround, settings: Wanted): EscapeFinding {
  if (frame.bearing === null) return { escape: null, notes: [] };
  return walkEscapeOf([{ frame, ground }], settings);
}

/** One bearing for all legs of a walk; legs without length do not count. */
export function walkEscapeOf(
  legs: readonly { readonly frame: LegFrame; readonly ground: EscapeGround }[],
  settings: Wanted,
): EscapeFinding {
  const real = legs.filter(({ frame }) => frame.bearing !== null);
  if (real.length === 0) return { escape: null, notes: [] };
  const cannot = notSeen(real.map(({ ground }) => ground));
  const problems = real.map(({ frame, ground }) => escapeProblem(frame, ground, settings));
  const chosen = bestBearing(problems, settings.driftDeg, settings.escapeReachM);
  if (!chosen)
    return { escape: null, notes: [...partlyWords(problems, legs.length > 1, settings), ...cannot] };
  const escape = escapeOn(problems, chosen);
  const notes =
    chosen.worstDriftedM === null
      ? [
          `Keep the escape bearing well: straying by ${settings.driftDeg}° one may miss the ${kindAndName(escape.kind, escape.name)} or meet a danger.`,
        ]
      : [];
  if (escape.between.length > 0)
    notes.push(
      `On the way to the ${kindAndName(escape.kind, escape.name)}: ${escape.between.map(({ kind, name }) => kindAndName(kind, name)).join(", ")}.`,
    );
  if (escape.ends.length > 1)
    notes.push(
      `Where one ends depends on where one sets out: ${escape.ends.map(({ kind, name, share }) => `${kindAndName(kind, name)} from ${Math.max(1, Math.round(share * 100))} %`).join(", ")} of the way.`,
    );
  const blind = problems.some((problem) => problem.sweep(chosen.bearingDeg).unknownSlope);
  if (blind) cannot.push("Heights are missing on part of the way: steep ground there is not known.");
  return { escape, notes: [...notes, ...cannot] };
}

interface Chosen {
  readonly bearingDeg: number;
  readonly worstM: number;
  readonly worstDriftedM: number | null;
}

/**
 * The worst distance of a bearing over all legs, when it is within `farM`, or the least it can be; Infinity when the
 * bearing does not serve.
 */
function worstWithin(problems: readonly EscapeProblem[], b: number, farM: number, reachM: number): number {
  let worst = 0;
  for (const problem of problems) {
    const swept = problem.sweepWithin(b, farM);
    if (typeof swept === "number") return swept > reachM ? Infinity : swept;
    if (swept.worstM === Infinity || swept.blocked.length > 0) return Infinity;
    worst = Math.max(worst, swept.worstM);
  }
  return worst;
}

const whole = (bearingDeg: number): number => ((bearingDeg % 360) + 360) % 360;

/**
 * Best first: the bearing that promises least is swept a little farther than promised; either its worst distance is
 * found, or it promises more and another may come first.
 */
function bestBearing(problems: readonly EscapeProblem[], driftDeg: number, reachM: number): Chosen | null {
  const first = Float64Array.from({ length: 360 }, (_, b) =>
    Math.max(...problems.map(({ boundM }) => boundM[b] as number)),
  );
  const drift = Math.round(driftDeg);
  const strays = [...new Set([drift, -drift, Math.round(drift / 2), -Math.round(drift / 2)])];
  const worstOf = (b: number): number => {
    if (first[b] === Infinity) return Infinity;
    let worst = 0;
    for (const problem of problems) {
      const { worstM, blocked } = problem.sweep(b);
      if (worstM === Infinity || blocked.length > 0) return Infinity;
      worst = Math.max(worst, worstM);
    }
    return worst;
  };
  const search = (mustBeSure: boolean): Chosen | null => {
    const promised = first.map((boundM, b) =>
      mustBeSure && strays.some((stray) => first[whole(b + stray)] === Infinity) ? Infinity : boundM,
    );
    for (;;) {
      let b = 0;
      for (let k = 1; k < 360; k++) if ((promised[k] as number) < (promised[b] as number)) b = k;
      const least = promised[b] as number;
      if (least === Infinity) return null;
      const farM = nextFarM(least);
      const worstM = worstWithin(problems, b, farM, reachM);
      // What is found, or can be, may be more than another promises: it waits its turn.
      if (worstM > least + 1e-9) promised[b] = worstM;
      else {
        let driftedM = worstM;
        if (mustBeSure)
          for (const stray of strays)
            if (driftedM < Infinity) driftedM = Math.max(driftedM, worstOf(whole(b + stray)));
        if (driftedM < Infinity)
          return { bearingDeg: b, worstM, worstDriftedM: mustBeSure ? driftedM : null };
        promised[b] = Infinity;
      }
    }
  };
  return search(true) ?? search(false);
}

function escapeOn(problems: readonly EscapeProblem[], { bearingDeg, worstM, worstDriftedM }: Chosen): Escape {
  const ends = new Map<string, Source & { lengthM: number }>();
  const between = new Map<string, Source>();
  const key = ({ kind, name }: Source): string => `${kind} ${name}`;
  const stretches: Float64Array[] = [];
  let lengthM = 0;
  for (const problem of problems) {
    const { lines, frame } = problem;
    lengthM += frame.lengthM;
    let [run, runOf] = [[] as number[], -1];
    for (const { x0, x1, y0, y1, segment } of problem.sweep(bearingDeg).pieces) {
      const of = lines.ends.of[segment] as number;
      const source = lines.ends.sources[of] as Source;
      const end = ends.get(key(source)) ?? { ...source, lengthM: 0 };
      ends.set(key(source), { ...end, lengthM: end.lengthM + x1 - x0 });
      const start = frame.toLonLat(...problem.place(bearingDeg, x0, y0));
      const stop = frame.toLonLat(...problem.place(bearingDeg, x1, y1));
      if (of !== runOf && run.length > 0) {
        stretches.push(Float64Array.from(run));
        run = [];
      }
      runOf = of;
      run.push(...(run.length === 0 ? start : []), ...stop);
    }
    if (run.length > 0) stretches.push(Float64Array.from(run));
    for (const i of problem.crossed(bearingDeg)) {
      const source = lines.between.sources[i] as Source;
      between.set(key(source), source);
    }
  }
  const sorted = [...ends.values()]
    .toSorted((a, b) => b.lengthM - a.lengthM)
    .map(({ kind, name, lengthM: own }): EscapeEnd => ({ kind, name, share: own / lengthM }));
  const { kind, name } = sorted[0] as EscapeEnd;
  return {
    bearingTrueDeg: trueBearing(bearingDeg),
    kind,
    name,
    worstM,
    worstDriftedM,
    ends: sorted,
    between: [...between.values()],
    stretches,
  };
}

/** What the maps do not show and so cannot have been kept clear of. */
function notSeen(grounds: readonly EscapeGround[]): string[] {
  const notes: string[] = [];
  const lacks = (role: "cliff" | "water"): boolean => grounds.some(({ roles }) => !roles[role]);
  const kinds = (["cliff", "water"] as const)
    .filter(lacks)
    .map((kind) => (kind === "cliff" ? "cliffs" : kindWord(kind)));
  if (kinds.length > 0)
    notes.push(
      `This map does not show ${kinds.join(" or ")}: whether any is on the way of escape is not known.`,
    );
  if (grounds.some(({ elevation }) => !elevation))
    notes.push("There is no terrain model here: steep ground on the way of escape is not known.");
  if (grounds.some(({ isPartlyBlind }) => isPartlyBlind))
    notes.push("Part of the ground the escape bearing was looked for on is not on the map.");
  return notes;
}

/** "214° true to road Moor Road, 820 m at most" */
export const escapeWords = (
  { bearingTrueDeg, kind, name, worstM }: Escape,
  unit: LengthUnit = "metric",
): string => `${bearingTrueDeg}° true to ${kindAndName(kind, name)}, ${lengthInNote(worstM, unit)} at most`;
