/**
 * The backstop: the line beyond the target that tells walkers they have gone too far.
 *
 * The rays of the drift cone are followed from the target's distance on, as far as the reach. A ray is stopped by a
 * line when it meets it there. Candidates are lines met on average at 30° or more; the nearest that stops at least
 * 90 % of walkers is the backstop, else the one that stops most, weighed by how surely such a line stops anyone, if
 * that is at least half of them. Ridge and valley lines, and rising or falling ground, come in only where nothing built or
 * wet will do.
 *
 * A line the target lies on (within 10 m) stops walkers on whichever side of the target they come to it, so for it the
 * rays count from half the leg on, and it is 0 m beyond.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { LineFeature } from "../../map/features.ts";
import { DEG } from "../../units/angle.ts";
import type { LonLat } from "../../units/position.ts";
import { backstopLooks, NEARLY_ALL, notesOn, notesOnNone } from "./backstop-words.ts";
import { driftFan, type Ray } from "./drift-cone.ts";
import type { Backstop } from "../line-aids.ts";
import { distanceToLine, joinLines, sliceLine, type FramedLine } from "./framed-line.ts";
import type { LegSettings } from "../leg-settings.ts";
import { isGroundShape, STOPPING_KINDS, stopsSurely } from "../line-kinds.ts";

/** Stops too few to be called a backstop. */
const TOO_FEW = 0.5;
/** A line that stops less surely than this wants another behind it: wood edges, the shape of the ground. */
const SURE_STOP = 0.85;
/** A line met at less is walked along, not across. */
const ACROSS_DEG = 30;
/** A target this near a line lies on it: about what a point drawn by hand on a map of 1:25 000 can mean. */
const ON_LINE_M = 10;

export interface BackstopFinding {
  readonly backstop: Backstop | null;
  /**
   * What stops those who go on past a backstop that is weak: one that lets many by, one at the target, a wood edge or the
   * shape of the ground. Null when there is none or none is needed.
   */
  readonly second: Backstop | null;
  /** How the backstop will look on the ground, a sentence; null when there is none. */
  readonly looks: string | null;
  /** Why there is none, or what to know about it. */
  readonly notes: readonly string[];
}

interface Hit {
  readonly ray: Ray;
  readonly distanceM: number;
  readonly crossingDeg: number;
}

type Wanted = Pick<LegSettings, "driftDeg" | "backstopReachM"> & Partial<Pick<LegSettings, "lengthUnit">>;

/**
 * The backstop of a leg among its lines and, when nothing better is there, what the ground beyond does.
 * @param shapes backstops the ground itself offers (see ground-backstop.ts); asked for only when no line stops nearly all
 * @param heightAt height of the ground, metres, NaN where not known, for how the backstop will look
 */
export function backstopOf(
  frame: LegFrame,
  lines: readonly FramedLine[],
  wanted: Wanted,
  shapes: () => readonly Backstop[] = () => [],
  heightAt: ((lonLat: LonLat) => number) | null = null,
): BackstopFinding {
  if (frame.bearing === null) return { backstop: null, second: null, looks: null, notes: [] };
  const fan = driftFan(wanted.driftDeg);
  const farM = frame.lengthM + wanted.backstopReachM;
  const halfWidth = farM * Math.tan(Math.min(89, wanted.driftDeg) * DEG);
  const near = lines.filter(
    ({ line, minS, maxS, minT, maxT }) =>
      STOPPING_KINDS.has(line.kind) &&
      maxS >= frame.lengthM / 2 &&
      minS <= farM &&
      maxT >= -halfWidth &&
      minT <= halfWidth,
  );
  const lineOf = new Map<Backstop, LineFeature>();
  const found = joinLines(near).flatMap((group) => {
    const stops = stopBy(frame, group, fan, wanted);
    for (const stop of stops) lineOf.set(stop, (group[0] as FramedLine).line);
    return stops;
  });
  const across = ({ crossingDeg }: Backstop): boolean => crossingDeg >= ACROSS_DEG;
  const crossing = found.filter(across);
  const sure = crossing.some(({ kind, stoppedShare }) => stoppedShare >= NEARLY_ALL && !isGroundShape(kind));
  const candidates = sure ? crossing : [...crossing, ...shapes().filter(across)];
  const best = choose(candidates);
  if (!best) return { backstop: null, second: null, looks: null, notes: notesOnNone(candidates, wanted) };
  const many = best.stoppedShare < NEARLY_ALL;
  const weak = best.beyondM === 0 || many || stopsSurely(best.kind) < SURE_STOP;
  const behind = candidates.filter(
    (c) => c.beyondM > best.beyondM && c.stoppedShare >= (many ? TOO_FEW : NEARLY_ALL),
  );
  const second = weak ? choose(behind) : null;
  const { lengthUnit = "metric" } = wanted;
  return {
    backstop: best,
    second,
    looks: backstopLooks(best, lineOf.get(best) ?? null, frame, lengthUnit, heightAt),
    notes: notesOn(best, second, wanted),
  };
}

function choose(candidates: readonly Backstop[]): Backstop | null {
  const nearest = (these: readonly Backstop[]): Backstop | null =>
    these.reduce<Backstop | null>((a, b) => (a && a.beyondM <= b.beyondM ? a : b), null);
  const sure = candidates.filter(({ stoppedShare }) => stoppedShare >= NEARLY_ALL);
  const worth = ({ kind, stoppedShare }: Backstop): number => stoppedShare * stopsSurely(kind);
  return (
    nearest(sure.filter(({ kind }) => !isGroundShape(kind))) ??
    nearest(sure) ??
    candidates
      .filter(({ stoppedShare }) => stoppedShare >= TOO_FEW)
      .reduce<Backstop | null>(
        (a, b) => (a && (worth(a) > worth(b) || (worth(a) === worth(b) && a.beyondM <= b.beyondM)) ? a : b),
        null,
      )
  );
}

/** What one line of the ground, in one part or several, does to the walkers. */
function stopBy(
  frame: LegFrame,
  group: readonly FramedLine[],
  fan: readonly Ray[],
  { driftDeg, backstopReachM }: Wanted,
): Backstop[] {
  const { lengthM } = frame;
  const onTarget = group.some((framed) => distanceToLine(framed, lengthM, 0) <= ON_LINE_M);
  const fromM = onTarget ? lengthM / 2 : lengthM;
  const toM = lengthM + backstopReachM;
  const hits = firstHits(fan, group, fromM, toM).filter((hit) => hit !== null);
  const stoppedShare = hits.reduce((sum, { ray }) => sum + ray.share, 0);
  if (stoppedShare === 0) return [];
  const mean = (value: (hit: Hit) => number): number =>
    hits.reduce((sum, hit) => sum + hit.ray.share * value(hit), 0) / stoppedShare;
  const ahead = hits.find(({ ray }) => ray.sin === 0);
  const { line } = group[0] as FramedLine;
  return [
    {
      kind: line.kind,
      name: line.name,
      beyondM: onTarget
        ? 0
        : Math.max(0, ahead ? ahead.distanceM - lengthM : mean(({ distanceM }) => distanceM) - lengthM),
      crossingDeg: mean(({ crossingDeg }) => crossingDeg),
      stoppedShare: Math.min(1, stoppedShare),
      stretches: group.flatMap((framed) =>
        insideCone(framed, fromM * Math.cos(driftDeg * DEG), toM, Math.tan(driftDeg * DEG)),
      ),
    },
  ];
}

/** Where each ray first meets any of the lines at `fromM` to `toM` metres from the start of the leg. */
function firstHits(
  fan: readonly Ray[],
  group: readonly FramedLine[],
  fromM: number,
  toM: number,
): (Hit | null)[] {
  const hits: (Hit | null)[] = fan.map(() => null);
  const last = fan.length - 1;
  const edgeDeg = (fan[last] as Ray).angleDeg;
  const nearestS = fromM * Math.cos(Math.min(90, edgeDeg) * DEG);
  const perDeg = edgeDeg > 0 ? last / (2 * edgeDeg) : 0;
  for (const { st, count } of group) {
    for (let i = 0; i < 2 * count - 2; i += 2) {
      const as = st[i] as number;
      const at = st[i + 1] as number;
      const bs = st[i + 2] as number;
      const bt = st[i + 3] as number;
      if ((as < nearestS && bs < nearestS) || (as > toM && bs > toM)) continue;
      // Only the rays between the directions of its ends can meet it; a millionth of a ray is room for rounding.
      let [first, end] = [0, last];
      if (as > 0 && bs > 0) {
        const a = (Math.atan2(at, as) / DEG + edgeDeg) * perDeg;
        const b = (Math.atan2(bt, bs) / DEG + edgeDeg) * perDeg;
        first = Math.max(0, Math.ceil(Math.min(a, b) - 1e-6));
        end = Math.min(last, Math.floor(Math.max(a, b) + 1e-6));
      }
      for (let k = first; k <= end; k++) {
        const ray = fan[k] as Ray;
        // Signed distances of both ends from the ray's line; the same sign means no meeting.
        const a = at * ray.cos - as * ray.sin;
        const b = bt * ray.cos - bs * ray.sin;
        if (a * b > 0 || a === b) continue;
        const f = a / (a - b);
        const distanceM = (as + f * (bs - as)) * ray.cos + (at + f * (bt - at)) * ray.sin;
        const known = hits[k];
        if (distanceM < fromM || distanceM > toM || (known && known.distanceM <= distanceM)) continue;
        const across = Math.abs(b - a) / Math.hypot(bs - as, bt - at);
        hits[k] = { ray, distanceM, crossingDeg: Math.asin(Math.min(1, across)) / DEG };
      }
    }
  }
  return hits;
}

/** The parts of a line inside the cone between two distances along the leg. */
function insideCone(framed: FramedLine, fromS: number, toS: number, spread: number): Float64Array[] {
  const parts: [number, number][] = [];
  const { st, count } = framed;
  for (let i = 0; i + 1 < count; i++) {
    const [s0, t0, s1, t1] = [
      st[2 * i] as number,
      st[2 * i + 1] as number,
      st[2 * i + 2] as number,
      st[2 * i + 3] as number,
    ];
    let [low, high] = [0, 1];
    // Clipping against the four sides: positive is inside (Liang and Barsky's method).
    for (const [a, b] of [
      [s0 - fromS, s1 - fromS],
      [toS - s0, toS - s1],
      [s0 * spread - t0, s1 * spread - t1],
      [s0 * spread + t0, s1 * spread + t1],
    ] as const) {
      if (a < 0 && b < 0) low = 2;
      else if (a < 0) low = Math.max(low, a / (a - b));
      else if (b < 0) high = Math.min(high, a / (a - b));
    }
    if (low >= high) continue;
    const last = parts.at(-1);
    if (last && Math.abs(last[1] - (i + low)) < 1e-9) last[1] = i + high;
    else parts.push([i + low, i + high]);
  }
  return parts.map(([from, to]) => sliceLine(framed, from, to));
}
