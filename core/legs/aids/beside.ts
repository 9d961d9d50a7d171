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
/** Places looked at along the line; where one is beside and the next is not, the change is then found to CLOSE_M. */
const STEP_M = 5;
const CLOSE_M = 0.001;

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

/** All stretches of a line beside a leg of this length (metres), in order along the line. */
export function stretchesBeside(
  framed: FramedLine,
  lengthM: number,
  { offsetM, toleranceDeg }: Beside,
): Stretch[] {
  if (framed.minS > lengthM || framed.maxS < 0 || framed.minT > offsetM || framed.maxT < -offsetM) return [];
  const walker = new LineWalker(framed);
  const steepest = Math.tan(Math.min(89.999, toleranceDeg) * DEG);

  const isBeside = (along: number): boolean => {
    const { s, t } = walker.at(along);
    if (s < 0 || s > lengthM || Math.abs(t) > offsetM) return false;
    const a = walker.at(along - CHORD_M);
    const b = walker.at(along + CHORD_M);
    return Math.abs(b.t - a.t) <= steepest * Math.abs(b.s - a.s) && b.s !== a.s;
  };
  const changeBetween = (from: number, to: number, besideAtFrom: boolean): number => {
    let [low, high] = [from, to];
    while (high - low > CLOSE_M) {
      const middle = (low + high) / 2;
      if (isBeside(middle) === besideAtFrom) low = middle;
      else high = middle;
    }
    // The end that is still beside, so that no stretch sticks out of the strip.
    return besideAtFrom ? low : high;
  };

  const stretches: Stretch[] = [];
  let start: number | null = null;
  let last = 0;
  const total = walker.totalM;
  for (let k = 0; last < total || k === 0; k++) {
    let along = Math.min(total, k * STEP_M);
    // Far from the strip nothing can begin: on to the end of this segment at once.
    if (start === null) {
      const clear = walker.clearUntil(along, lengthM, offsetM);
      if (clear > along + STEP_M) {
        k = Math.floor(clear / STEP_M);
        last = Math.max(last, k * STEP_M);
        along = Math.min(total, k * STEP_M);
      }
    }
    const beside = isBeside(along);
    if (beside && start === null) start = along > last ? changeBetween(last, along, false) : along;
    else if (!beside && start !== null) {
      stretches.push(walker.stretch(start, changeBetween(last, along, true)));
      start = null;
    }
    last = along;
  }
  if (start !== null) stretches.push(walker.stretch(start, total));
  return stretches.filter((stretch) => stretch.length >= 2);
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

  /** How far along the line its segments stay clear of the strip beside the leg; `along` itself when they do not. */
  clearUntil(along: number, lengthM: number, offsetM: number): number {
    const { st, count } = this.#framed;
    let clear = along;
    for (let i = this.#segment(along); i + 1 < count; i++) {
      const [s0, t0, s1, t1] = [
        st[2 * i] as number,
        st[2 * i + 1] as number,
        st[2 * i + 2] as number,
        st[2 * i + 3] as number,
      ];
      const outside =
        (s0 < 0 && s1 < 0) ||
        (s0 > lengthM && s1 > lengthM) ||
        (t0 > offsetM && t1 > offsetM) ||
        (t0 < -offsetM && t1 < -offsetM);
      if (!outside) break;
      clear = this.#along[i + 1] as number;
    }
    return clear;
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
