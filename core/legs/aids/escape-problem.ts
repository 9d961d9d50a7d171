/**
 * The bearings of one leg, each swept when asked for and once only, and beforehand a bound below which the worst
 * distance of a bearing cannot lie: how far one goes on it from a few places of the leg, found for all bearings at once.
 */
import type { LegFrame } from "../../geodesy/leg-frame.ts";
import type { Role } from "../../map/kinds.ts";
import type { ElevationModel } from "../../terrain/elevation.ts";
import { DEG } from "../../units/angle.ts";
import type { FramedArea } from "./framed-area.ts";
import type { FramedLine } from "./framed-line.ts";
import { type EscapeLines, escapeLines, type Segments } from "./escape-lines.ts";
import { beforeFront, type FrontPiece, frontOf, type Swept, sweptOf, sweptRoom } from "./escape-sweep.ts";
import { northInFrame, type SlopeField, slopeField } from "./hazards-slope.ts";

export interface EscapeGround {
  readonly lines: readonly FramedLine[];
  readonly areas: readonly FramedArea[];
  readonly elevation: ElevationModel | null;
  readonly roles: Partial<Record<Role, unknown>>;
  /** Whether part of the ground looked at is not on the map. */
  readonly isPartlyBlind?: boolean;
}

export interface EscapeSettings {
  /** How far one may have to walk, metres. */
  readonly escapeReachM: number;
  /** A bearing is sure when it still ends on a big line, with nothing in the way, this much to either side, degrees. */
  readonly driftDeg: number;
  /** Ground at or above the least of these is in the way. */
  readonly steepDeg: readonly number[];
}

export type BlockedBy = "cliff" | "water" | "steep";

/** What walking off on one bearing comes to. */
export interface BearingSweep {
  readonly pieces: readonly FrontPiece[];
  /** Infinity when from somewhere no big line is reached. */
  readonly worstM: number;
  /** Stretches of the leg from which something is in the way. */
  readonly blocked: readonly { readonly x0: number; readonly x1: number; readonly by: BlockedBy }[];
  /** The slope of some of the way is not known. */
  readonly unknownSlope: boolean;
}

export interface EscapeProblem {
  readonly frame: LegFrame;
  readonly lines: EscapeLines;
  /** By whole degrees from true north: Infinity where some place reaches nothing or is blocked. */
  readonly boundM: Float64Array;
  /** Places of those looked at that reach nothing or are blocked. */
  readonly bad: Int32Array;
  /** What a bearing comes to when its front lies wholly within a distance; else the least its worst distance can be. */
  sweepWithin(bearingDeg: number, farM: number): BearingSweep | number;
  /** What it comes to within reach. */
  sweep(bearingDeg: number): BearingSweep;
  /** Where one is having set out from x on a bearing and gone y metres. */
  place(bearingDeg: number, x: number, y: number): readonly [s: number, t: number];
  /** Indices into `lines.between.sources` of what is crossed on a bearing. */
  crossed(bearingDeg: number): ReadonlySet<number>;
}

const PLACES = 6;
/** Steep ground narrower than this can be missed: it is looked for this often, metres. */
const STEEP_STEP_M = 25;

export function escapeProblem(
  frame: LegFrame,
  { lines: framed, areas, elevation }: EscapeGround,
  { escapeReachM, steepDeg }: EscapeSettings,
): EscapeProblem {
  const { lengthM } = frame;
  const northDeg = northInFrame(frame);
  const found = escapeLines(lengthM, framed, areas, escapeReachM);
  const cos = new Float64Array(360);
  const sin = new Float64Array(360);
  for (let b = 0; b < 360; b++) {
    cos[b] = Math.cos((northDeg + b) * DEG);
    const across = Math.sin((northDeg + b) * DEG);
    // Along the leg itself nothing is swept: a millionth aside is 1 mm in a kilometre.
    sin[b] = Math.abs(across) < 1e-6 ? 1e-6 : across;
  }
  const { boundM, bad } = bounds(found, cos, sin, northDeg, lengthM, escapeReachM);
  const near = nearFirst(found.ends);
  const lines: EscapeLines = { ...found, ends: near.segments };
  const room = sweptRoom(Math.max(lines.ends.count, lines.inTheWay.count, lines.between.count));
  const over = (segments: Segments, b: number, farM: number): Swept =>
    sweptOf(segments, cos[b] as number, sin[b] as number, lengthM, farM, room);
  const field = elevation ? slopeField(frame, elevation, STEEP_STEP_M) : null;
  const least = Math.min(...steepDeg);
  const known: (BearingSweep | undefined)[] = [];
  const finish = (b: number, pieces: readonly FrontPiece[]): BearingSweep => {
    const worstM = pieces.some(({ segment }) => segment < 0) ? Infinity : farthest(pieces);
    const blocked: { x0: number; x1: number; by: BlockedBy }[] = beforeFront(
      pieces,
      over(lines.inTheWay, b, farthest(pieces)),
    ).map(({ x0, x1, segment }) => ({
      x0,
      x1,
      by: lines.inTheWay.sources[lines.inTheWay.of[segment] as number]?.kind === "cliff" ? "cliff" : "water",
    }));
    const steep = field
      ? steepOnTheWay(pieces, field, least, cos[b] as number, sin[b] as number)
      : { blocked: [], unknown: false };
    return { pieces, worstM, blocked: [...blocked, ...steep.blocked], unknownSlope: steep.unknown };
  };
  const sweepWithin = (b: number, farM: number): BearingSweep | number => {
    const done = known[b];
    if (done) return done;
    const isNear = farM < escapeReachM;
    const pieces = frontOf(over(near.within(farM), b, Math.min(farM, escapeReachM)), lengthM, isNear);
    const last = pieces.at(-1);
    // Where the near part leaves no gap, nothing farther off is seen; from a gap one goes at least as far as the next line.
    if (isNear && last && last.segment < 0)
      return Math.max(farM, rayM(lines.ends, (last.x0 + last.x1) / 2, cos[b] as number, sin[b] as number));
    return (known[b] = finish(b, pieces));
  };
  const sweep = (b: number): BearingSweep => {
    let farM = boundM[b] as number;
    for (;;) {
      const swept = sweepWithin(b, farM < Infinity ? nextFarM(farM) : escapeReachM);
      if (typeof swept !== "number") return swept;
      farM = swept;
    }
  };
  return {
    frame,
    lines,
    boundM,
    bad,
    sweepWithin,
    sweep,
    place: (b, x, y) => [x + y * (cos[b] as number), y * (sin[b] as number)],
    crossed: (b) =>
      new Set(
        beforeFront(sweep(b).pieces, over(lines.between, b, farthest(sweep(b).pieces))).map(
          ({ segment }) => lines.between.of[segment] as number,
        ),
      ),
  };
}

/** Of a front only what is near matters, and the nearer one looks the sooner it is found: looked for by growing steps. */
export const nextFarM = (farM: number): number => 1.25 * farM + 30;

const farthest = (pieces: readonly FrontPiece[]): number =>
  pieces.reduce((most, { y0, y1, segment }) => (segment < 0 ? most : Math.max(most, y0, y1)), 0);

function steepOnTheWay(
  pieces: readonly FrontPiece[],
  field: SlopeField,
  least: number,
  cos: number,
  sin: number,
): { blocked: { x0: number; x1: number; by: BlockedBy }[]; unknown: boolean } {
  const blocked: { x0: number; x1: number; by: BlockedBy }[] = [];
  let unknown = false;
  const end = pieces.at(-1)?.x1 ?? 0;
  const count = Math.max(1, Math.ceil(end / STEEP_STEP_M));
  let p = 0;
  for (let k = 0; k < count; k++) {
    const x = ((k + 0.5) * end) / count;
    while (p + 1 < pieces.length && (pieces[p] as FrontPiece).x1 < x) p++;
    const { x0, x1, y0, y1, segment } = pieces[p] as FrontPiece;
    if (segment < 0) continue;
    const far = y0 + ((x - x0) / (x1 - x0)) * (y1 - y0);
    // The ground one stands on already is not on the way.
    for (let y = STEEP_STEP_M; y < far; y += STEEP_STEP_M) {
      const slope = field.slopeDeg(x + y * cos, y * sin);
      if (Number.isNaN(slope)) unknown = true;
      else if (slope >= least) {
        blocked.push({ x0: (k * end) / count, x1: ((k + 1) * end) / count, by: "steep" });
        break;
      }
    }
  }
  return { blocked, unknown };
}

function bounds(
  { ends, inTheWay }: EscapeLines,
  cos: Float64Array,
  sin: Float64Array,
  northDeg: number,
  lengthM: number,
  reachM: number,
): { boundM: Float64Array; bad: Int32Array } {
  const boundM = new Float64Array(360);
  const bad = new Int32Array(360);
  const met = new Float64Array(360);
  const stopped = new Float64Array(360);
  for (let k = 0; k < PLACES; k++) {
    const x = ((k + 0.5) / PLACES) * lengthM;
    firstMet(ends, x, cos, sin, northDeg, met);
    firstMet(inTheWay, x, cos, sin, northDeg, stopped);
    for (let b = 0; b < 360; b++) {
      const far = met[b] as number;
      const isBad = !(far <= reachM) || (stopped[b] as number) < far - 0.02;
      if (isBad) bad[b] = (bad[b] as number) + 1;
      boundM[b] = isBad ? Infinity : Math.max(boundM[b] as number, far);
    }
  }
  return { boundM, bad };
}

/** Segments by how far they lie from the leg's line, which no bearing can make less. */
function nearFirst({ at, of, count, sources }: Segments): {
  readonly segments: Segments;
  /** Those no farther from the leg's line than this. */
  within(farM: number): Segments;
} {
  // Whole metres and the number in one, so that plain numbers are sorted.
  const keys = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const t0 = at[4 * i + 1] as number;
    const t1 = at[4 * i + 3] as number;
    const nearM = t0 > 0 === t1 > 0 ? Math.min(Math.abs(t0), Math.abs(t1)) : 0;
    keys[i] = Math.floor(nearM) * 2 ** 24 + i;
  }
  keys.sort();
  const sortedAt = new Float64Array(4 * count);
  const sortedOf = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    const i = (keys[k] as number) % 2 ** 24;
    for (let j = 0; j < 4; j++) sortedAt[4 * k + j] = at[4 * i + j] as number;
    sortedOf[k] = of[i] as number;
  }
  const segments = { at: sortedAt, of: sortedOf, count, sources };
  return {
    segments,
    within(farM) {
      const beyond = (Math.floor(farM) + 1) * 2 ** 24;
      let low = 0;
      let high = count;
      while (low < high) {
        const middle = (low + high) >> 1;
        if ((keys[middle] as number) < beyond) low = middle + 1;
        else high = middle;
      }
      return { ...segments, count: low };
    },
  };
}

/** How far from one place of the leg the first segment lies on one bearing; Infinity for none. */
function rayM({ at, count }: Segments, x: number, cos: number, sin: number): number {
  let best = Infinity;
  for (let i = 0; i < 4 * count; i += 4) {
    // Signed distances of both ends from the ray's line.
    const a = ((at[i] as number) - x) * sin - (at[i + 1] as number) * cos;
    const b = ((at[i + 2] as number) - x) * sin - (at[i + 3] as number) * cos;
    if (a > 0 === b > 0) continue;
    const f = a / (a - b);
    const t = (at[i + 1] as number) + f * ((at[i + 3] as number) - (at[i + 1] as number));
    const y = t / sin;
    if (y >= 0 && y < best) best = y;
  }
  return best;
}

/** How far from one place of the leg the first segment lies on each whole bearing; Infinity for none. */
function firstMet(
  { at, count }: Segments,
  x: number,
  cos: Float64Array,
  sin: Float64Array,
  northDeg: number,
  out: Float64Array,
): void {
  out.fill(Infinity);
  let [lastS, lastT, lastAngle] = [NaN, NaN, NaN];
  for (let i = 0; i < 4 * count; i += 4) {
    const s0 = (at[i] as number) - x;
    const t0 = at[i + 1] as number;
    const s1 = (at[i + 2] as number) - x;
    const t1 = at[i + 3] as number;
    // Segments follow one another: the angle of one's end is that of the next one's start.
    const a0 = s0 === lastS && t0 === lastT ? lastAngle : Math.atan2(t0, s0) / DEG - northDeg;
    const a1 = Math.atan2(t1, s1) / DEG - northDeg;
    [lastS, lastT, lastAngle] = [s1, t1, a1];
    let turn = a1 - a0;
    if (turn > 180) turn -= 360;
    else if (turn < -180) turn += 360;
    const [from, to] = turn < 0 ? [a0 + turn, a0] : [a0, a0 + turn];
    const cross = s0 * (t1 - t0) - t0 * (s1 - s0);
    for (let b = Math.ceil(from - 1e-9); b <= to + 1e-9; b++) {
      const k = ((b % 360) + 360) % 360;
      const y = cross / ((cos[k] as number) * (t1 - t0) - (sin[k] as number) * (s1 - s0));
      if (y >= 0 && y < (out[k] as number)) out[k] = y;
    }
  }
}
