/**
 * How good an attack point is: how easily it is found, and how short and clear the last leg from it.
 * Source of the idea: US Army FM 3-21.8, navigation aids (an attack point is a feature that cannot be mistaken, near
 * the goal, from which the last short stretch is taken by careful compass and pace count). The weights are common
 * practice, no source.
 */
import { DEG } from "../../units/angle.ts";
import type { Kind } from "../../map/kinds.ts";
import { kindAndName, stopsSurely } from "../line-kinds.ts";
import type { Candidate } from "./attack-points-candidates.ts";
import { apartM, castRay, meets, nearestPlace, type St } from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";

export interface Scored {
  readonly candidate: Candidate;
  readonly distanceM: number;
  readonly score: number;
  /** Kind and name of the handrail that leads there, of the line that stops one there; null when none does. */
  readonly handrail: string | null;
  readonly stop: string | null;
  /** Rise from there to the target, metres; null when heights are not known. */
  readonly riseM: number | null;
  /** What the last leg crosses that takes care: kinds and names. */
  readonly crosses: readonly string[];
}

export interface ScoreInput {
  readonly lengthM: number;
  readonly driftDeg: number;
  readonly lines: readonly FramedLine[];
  /** Stretches that can be followed from the start, with what they are called. */
  readonly handrails: readonly {
    readonly called: string;
    readonly fromM: number;
    readonly stretch: FramedLine;
  }[];
  readonly heightAt: ((at: St) => number) | null;
}

/** On a handrail when this near it, metres: one passes it within sight. No source. */
const ON_HANDRAIL_M = 20;
/** It leads there when followed for at least so long, metres. No source. */
const LED_M = 50;
/** A last leg up to here costs nothing, metres; at the reach it counts for less than half. */
const EASY_M = 100;
const FAR_M = 400;
/** Walking there and on may be this many times the straight leg. */
const MOST_DETOUR = 1.6;
const ACROSS_DEG = 30;
/** Ground this steep is not sent over: tangent of 35°. */
const TOO_STEEP = Math.tan(35 * DEG);

/** Ways over which no last leg is sent. */
const BARRED: ReadonlySet<Kind> = new Set<Kind>(["cliff", "restricted", "shore"]);
/** What lowers its worth by how much. */
const COSTS: ReadonlyMap<Kind, number> = new Map<Kind, number>([
  ["river", 0.3],
  ["rail", 0.5],
  ["stream", 0.9],
  ["wall", 0.95],
  ["fence", 0.95],
]);

/** Null for a candidate that is none: the way from it is barred, or the way to it too long. */
export function scored(candidate: Candidate, input: ScoreInput): Scored | null {
  const target = { s: input.lengthM, t: 0 };
  const distanceM = apartM(candidate, target);
  const fromStartM = Math.hypot(candidate.s, candidate.t);
  const detour = (fromStartM + distanceM) / input.lengthM;
  if (detour > MOST_DETOUR) return null;
  const last = lastLeg(candidate, target, distanceM, input);
  if (!last) return null;
  const handrail = input.handrails.find(
    ({ fromM, stretch }) =>
      candidate.s - fromM >= LED_M && nearestPlace(stretch, candidate).offM <= ON_HANDRAIL_M,
  );
  const stop = stopAt(candidate, fromStartM, input.driftDeg);
  const easily = Math.min(1, 0.6 + (handrail ? 0.25 : 0) + 0.25 * (stop?.share ?? 0));
  const short = distanceM <= EASY_M ? 1 : 1 - (0.6 * (distanceM - EASY_M)) / (FAR_M - EASY_M);
  const straight = Math.min(1, 1 - (detour - 1.1) * 1.2) * (candidate.s > input.lengthM ? 0.9 : 1);
  return {
    candidate,
    distanceM,
    score: candidate.distinct * easily * short * straight * last.worth,
    handrail: handrail?.called ?? null,
    stop: stop && stop.share >= 0.5 ? stop.called : null,
    riseM: last.riseM,
    crosses: last.crosses,
  };
}

/** The line of a candidate that stops most of those who walk to it, over five rays of the drift cone. */
function stopAt(
  { s, t, lines }: Candidate,
  fromStartM: number,
  driftDeg: number,
): { readonly share: number; readonly called: string } | null {
  const bearing = Math.atan2(t, s);
  let best: { share: number; called: string } | null = null;
  for (const line of lines) {
    const { kind, name } = line.line;
    if (stopsSurely(kind) === 0) continue;
    let met = 0;
    for (const part of [-1, -0.5, 0, 0.5, 1]) {
      const angle = bearing + part * driftDeg * DEG;
      const hit = castRay(
        line,
        { s: 0, t: 0 },
        Math.cos(angle),
        Math.sin(angle),
        fromStartM * 0.7,
        fromStartM * 1.3,
      );
      if (hit && hit.crossingDeg >= ACROSS_DEG) met++;
    }
    const share = (met / 5) * stopsSurely(kind);
    if (share > 0 && (!best || share > best.share)) best = { share, called: kindAndName(kind, name) };
  }
  return best;
}

function lastLeg(
  from: Candidate,
  to: St,
  distanceM: number,
  { lines, heightAt }: ScoreInput,
): { readonly worth: number; readonly riseM: number | null; readonly crosses: string[] } | null {
  let worth = 1;
  const crosses: string[] = [];
  // A bridge or a lake's corner stands on the line it is named after: begun a little way on.
  const part = Math.min(0.5, 10 / distanceM);
  const begin = { s: from.s + part * (to.s - from.s), t: from.t + part * (to.t - from.t) };
  for (const line of lines) {
    const { kind, name } = line.line;
    const cost = COSTS.get(kind);
    if ((cost === undefined && !BARRED.has(kind)) || !meets(line, begin, to)) continue;
    if (cost === undefined) return null;
    worth *= cost;
    crosses.push(kindAndName(kind, name));
  }
  if (!heightAt) return { worth, riseM: null, crosses };
  const steps = Math.max(2, Math.ceil(distanceM / 20));
  const heights = Array.from({ length: steps + 1 }, (_, i) =>
    heightAt({ s: from.s + ((to.s - from.s) * i) / steps, t: from.t + ((to.t - from.t) * i) / steps }),
  );
  if (heights.some(Number.isNaN)) return { worth, riseM: null, crosses };
  const stepM = distanceM / steps;
  for (let i = 1; i <= steps; i++)
    if (Math.abs((heights[i] as number) - (heights[i - 1] as number)) > TOO_STEEP * stepM) worth *= 0.5;
  const riseM = (heights[steps] as number) - (heights[0] as number);
  // Uphill over the brow: the target stays hidden until one is nearly there.
  if (riseM > 0.05 * distanceM) {
    const [eye, sight] = [(heights[0] as number) + 1.6, (heights[steps] as number) + 1];
    const hidden = heights.some((h, i) => i > 0 && i < steps && h > eye + ((sight - eye) * i) / steps);
    worth *= hidden ? 0.75 : 0.92;
  }
  return { worth, riseM, crosses };
}
