/** A line followed from a place on it, on through the lines of its kind that go on where it ends. */
import {
  alongAt,
  alongOf,
  apartM,
  isRing,
  lengthOf,
  pointAt,
  type St,
  turnBetween,
} from "./framed-geometry.ts";
import type { FramedLine } from "./framed-line.ts";

/** Ends this near are one: the rounding of tile coordinates, and what a line loses by being simplified. */
const TOUCH_M = 5;

export interface Chain {
  readonly way: FramedLine;
  /** The lines it is made of. */
  readonly parts: ReadonlySet<FramedLine>;
}

/**
 * The way along a line from a place on it, forwards or backwards, for at most so many metres: as a line of its own whose
 * metres along count from the place. Where the line ends it goes on with the line of the same kind, and of the same name
 * or of none, that turns least there. Round a ring it goes half-way.
 */
export function chainFrom(
  framed: FramedLine,
  place: number,
  forwards: boolean,
  lines: readonly FramedLine[],
  mostM: number,
): Chain {
  const { s, t } = pointAt(framed, place);
  const st: number[] = [s, t];
  const used = new Set<FramedLine>([framed]);
  let current = framed;
  let from = place;
  let ahead = forwards;
  let goneM = 0;
  for (;;) {
    const limitM = isRing(framed) ? Math.min(mostM, lengthOf(framed) / 2) : mostM;
    const along = alongOf(current);
    const startM = alongAt(current, from);
    const step = ahead ? 1 : -1;
    let last = startM;
    let i = ahead ? Math.floor(from) + 1 : Math.ceil(from) - 1;
    for (; i >= 0 && i < current.count; i += step) {
      st.push(current.st[2 * i] as number, current.st[2 * i + 1] as number);
      last = along[i] as number;
      if (goneM + Math.abs(last - startM) >= limitM) break;
    }
    goneM += Math.abs(last - startM);
    if (goneM >= limitM) break;
    if (isRing(current)) {
      // Begun in the middle of its drawing: over the place where the ring is closed.
      if (from === (ahead ? 0 : current.count - 1)) break;
      from = ahead ? 0 : current.count - 1;
      continue;
    }
    const next = goesOn(current, ahead, lines, used);
    if (!next) break;
    used.add(next.line);
    current = next.line;
    ahead = next.ahead;
    from = ahead ? 0 : current.count - 1;
  }
  return { way: framedOf(framed, st), parts: used };
}

function framedOf({ line }: FramedLine, st: readonly number[]): FramedLine {
  // A place at the very end of a line has no way on: a line of no length.
  const all = Float64Array.from(st.length >= 4 ? st : [...st, ...st]);
  let [minS, maxS, minT, maxT] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < all.length; i += 2) {
    minS = Math.min(minS, all[i] as number);
    maxS = Math.max(maxS, all[i] as number);
    minT = Math.min(minT, all[i + 1] as number);
    maxT = Math.max(maxT, all[i + 1] as number);
  }
  return { line, st: all, count: all.length >> 1, minS, maxS, minT, maxT };
}

function goesOn(
  current: FramedLine,
  ahead: boolean,
  lines: readonly FramedLine[],
  used: ReadonlySet<FramedLine>,
): { readonly line: FramedLine; readonly ahead: boolean } | null {
  const n = current.count;
  const end = pointAt(current, ahead ? n - 1 : 0);
  const before = pointAt(current, ahead ? n - 2 : 1);
  const heading: St = { s: end.s - before.s, t: end.t - before.t };
  let best: { line: FramedLine; ahead: boolean; turn: number } | null = null;
  for (const line of lines) {
    if (used.has(line) || line.line.kind !== current.line.kind) continue;
    const named = [line.line.name, current.line.name];
    if (named[0] !== named[1] && !named.includes(null)) continue;
    for (const forwards of [true, false]) {
      const start = pointAt(line, forwards ? 0 : line.count - 1);
      if (apartM(start, end) > TOUCH_M) continue;
      const on = pointAt(line, forwards ? 1 : line.count - 2);
      const turn = turnBetween(heading, { s: on.s - start.s, t: on.t - start.t });
      if (!best || turn < best.turn) best = { line, ahead: forwards, turn };
    }
  }
  return best;
}
