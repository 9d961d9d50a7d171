/**
 * The stretches of one line that run beside a leg.
 *
 * A place on the line is beside the leg when it lies between the leg's ends (0 ≤ s ≤ length), no further off than the
 * offset, and the line's direction there is within the tolerance of the leg's, forwards or backwards. Direction is
 * that of the chord from 15 m before to 15 m after along the line: a stream's wiggles do not stop one following it.
 */
import { DEG } from "../../units/angle.ts";
import type { FramedLine } from "./framed-line.ts";

/** Half the chord that gives the direction. Longer hides bends one would notice, shorter breaks wiggly streams apart. */
const CHORD_M = 15;
/** Stretches that end and begin within this are one: rounding. */
const CLOSE_M = 1e-6;
/** Shorter than a step is nothing to follow, metres along the line. */
const LEAST_M = 1;

export interface Beside {
  readonly offsetM: number;
  readonly toleranceDeg: number;
}

/** A point of a stretch: its place on the line and where that is. */
export interface StretchPoint {
  readonly place: number;
  readonly s: number;
  readonly t: number;
}

/** Points in order along the line: both ends of the stretch and every vertex between. At least two. */
export type Stretch = readonly StretchPoint[];

/**
 * All stretches of a line beside a leg of this length (metres), in order along the line. Exact: between places where the
 * place itself or an end of its chord passes a vertex, all of them move straight, and every condition is one on a straight
 * line.
 */
export function stretchesBeside(
  framed: FramedLine,
  lengthM: number,
  { offsetM, toleranceDeg }: Beside,
): Stretch[] {
  if (framed.minS > lengthM || framed.maxS < 0 || framed.minT > offsetM || framed.maxT < -offsetM) return [];
  const walker = new LineWalker(framed);
  const steepest = Math.tan(Math.min(89.999, toleranceDeg) * DEG);
  const runs: { from: number; to: number }[] = [];
  const add = (from: number, to: number): void => {
    const last = runs.at(-1);
    if (last && from - last.to <= CLOSE_M) last.to = to;
    else runs.push({ from, to });
  };
  for (let i = 0; i + 1 < framed.count; i++) {
    const part = walker.partInStrip(i, lengthM, offsetM);
    if (!part) continue;
    const turns = walker.chordTurns(part.from, part.to, CHORD_M);
    for (let k = 0; k + 1 < turns.length; k++) {
      const [from, to] = [turns[k] as number, turns[k + 1] as number];
      if (!(to > from)) continue;
      const [a, b] = [walker.chord(from, CHORD_M), walker.chord(to, CHORD_M)];
      // |dt| ≤ steepest·|ds| where these two differ in sign, or one is 0.
      const [low0, low1] = [a.t - steepest * a.s, b.t - steepest * b.s];
      const [high0, high1] = [a.t + steepest * a.s, b.t + steepest * b.s];
      const cuts = [0, rootOf(low0, low1), rootOf(high0, high1), 1].sort((x, y) => x - y);
      for (let c = 0; c < 3; c++) {
        const [f0, f1] = [cuts[c] as number, cuts[c + 1] as number];
        if (!(f1 > f0)) continue;
        const f = (f0 + f1) / 2;
        const isAlong = (low0 + f * (low1 - low0)) * (high0 + f * (high1 - high0)) <= 0;
        if (isAlong) add(from + f0 * (to - from), from + f1 * (to - from));
      }
    }
  }
  return runs.filter(({ from, to }) => to - from >= LEAST_M).map(({ from, to }) => walker.stretch(from, to));
}

/** Where a value that goes straight from a to b is 0, as a share of the way; 0 when it is nowhere. */
function rootOf(a: number, b: number): number {
  if (a * b >= 0) return 0;
  return a / (a - b);
}

/** Walks a framed line by metres along it. */
class LineWalker {
  readonly totalM: number;
  readonly #along: Float64Array;
  readonly #framed: FramedLine;

  constructor(framed: FramedLine) {
    const { st, count } = framed;
    this.#framed = framed;
    this.#along = new Float64Array(count);
    let sum = 0;
    for (let i = 1; i < count; i++) {
      sum += Math.hypot(
        (st[2 * i] as number) - (st[2 * i - 2] as number),
        (st[2 * i + 1] as number) - (st[2 * i - 1] as number),
      );
      this.#along[i] = sum;
    }
    this.totalM = sum;
  }

  /** The vertex before this many metres along the line. */
  #segment(along: number): number {
    let [low, high] = [0, this.#framed.count - 2];
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.#along[middle] as number) <= along) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  /** Where one is this many metres along the line; its ends beyond them. */
  at(along: number): StretchPoint {
    const clamped = Math.min(this.totalM, Math.max(0, along));
    const i = this.#segment(clamped);
    const { st } = this.#framed;
    const start = this.#along[i] as number;
    const length = (this.#along[i + 1] as number) - start;
    const f = length > 0 ? (clamped - start) / length : 0;
    const s = st[2 * i] as number;
    const t = st[2 * i + 1] as number;
    return {
      place: i + f,
      s: s + f * ((st[2 * i + 2] as number) - s),
      t: t + f * ((st[2 * i + 3] as number) - t),
    };
  }

  /** The part of a segment in the strip beside the leg, metres along the line; null when there is none. */
  partInStrip(i: number, lengthM: number, offsetM: number): { from: number; to: number } | null {
    const { st } = this.#framed;
    const [s0, t0] = [st[2 * i] as number, st[2 * i + 1] as number];
    const [s1, t1] = [st[2 * i + 2] as number, st[2 * i + 3] as number];
    if (
      (s0 < 0 && s1 < 0) ||
      (s0 > lengthM && s1 > lengthM) ||
      (t0 > offsetM && t1 > offsetM) ||
      (t0 < -offsetM && t1 < -offsetM)
    )
      return null;
    // Clipping against the four sides: positive is inside (Liang and Barsky's method).
    let [low, high] = [0, 1];
    for (let side = 0; side < 4; side++) {
      const a = side === 0 ? s0 : side === 1 ? lengthM - s0 : side === 2 ? offsetM - t0 : offsetM + t0;
      const b = side === 0 ? s1 : side === 1 ? lengthM - s1 : side === 2 ? offsetM - t1 : offsetM + t1;
      if (a < 0 && b < 0) return null;
      if (a < 0) low = Math.max(low, a / (a - b));
      else if (b < 0) high = Math.min(high, a / (a - b));
    }
    if (!(low < high)) return null;
    const start = this.#along[i] as number;
    const length = (this.#along[i + 1] as number) - start;
    return { from: start + low * length, to: start + high * length };
  }

  /** Both ends of a part of a segment, and every place between at which an end of the chord passes a vertex. */
  chordTurns(from: number, to: number, chordM: number): number[] {
    const turns: number[] = [];
    for (const aside of [-chordM, chordM])
      for (let i = this.#segment(from + aside); i < this.#framed.count; i++) {
        const at = (this.#along[i] as number) - aside;
        if (at >= to) break;
        if (at > from) turns.push(at);
      }
    turns.sort((a, b) => a - b);
    return [from, ...turns, to];
  }

  /** From so many metres before a place to as many after it, no farther than the line goes. */
  chord(along: number, chordM: number): { readonly s: number; readonly t: number } {
    const a = this.at(along - chordM);
    const b = this.at(along + chordM);
    return { s: b.s - a.s, t: b.t - a.t };
  }

  stretch(from: number, to: number): Stretch {
    if (to <= from) return [];
    const { st } = this.#framed;
    const points: StretchPoint[] = [this.at(from)];
    const end = this.at(to);
    for (let i = this.#segment(from) + 1; i < end.place; i++)
      points.push({ place: i, s: st[2 * i] as number, t: st[2 * i + 1] as number });
    points.push(end);
    return points;
  }
}
