/**
 * Segments of lines sorted into slabs across the leg, for the first one met on a short straight step.
 * There are a quarter as many slabs as segments, within limits: a step looks into few of them, and few are in each.
 */

export interface SegmentSlabs {
  /** Which thing each segment belongs to, and where on its line it begins, in order of `segment`. */
  readonly thing: Uint16Array;
  /** s, t of both ends. */
  readonly ends: Float64Array;
  readonly count: number;
  readonly lowS: number;
  readonly slabM: number;
  readonly slabs: number;
  /** Slab k holds `members[starts[k]]` … `members[starts[k + 1] - 1]`. */
  readonly starts: Uint32Array;
  readonly members: Uint32Array;
}

/** The answer of `firstMet`, written over by the next question. */
export interface Meeting {
  segment: number;
  /** Share of the step, 0–1. */
  at: number;
}

const MOST_SLABS = 256;

/** @param lines s, t, s, t … with the number of the thing each belongs to */
export function segmentSlabs(
  lines: readonly { readonly st: ArrayLike<number>; readonly thing: number }[],
): SegmentSlabs {
  const count = lines.reduce((n, { st }) => n + Math.max(0, (st.length >> 1) - 1), 0);
  const thing = new Uint16Array(count);
  const ends = new Float64Array(4 * count);
  let [lowS, highS, k] = [Infinity, -Infinity, 0];
  for (const { st, thing: of } of lines)
    for (let i = 0; i + 3 < st.length; i += 2, k++) {
      thing[k] = of;
      for (let j = 0; j < 4; j++) ends[4 * k + j] = st[i + j] as number;
      lowS = Math.min(lowS, st[i] as number, st[i + 2] as number);
      highS = Math.max(highS, st[i] as number, st[i + 2] as number);
    }
  if (count === 0) [lowS, highS] = [0, 0];
  const slabs = Math.max(1, Math.min(MOST_SLABS, count >> 2));
  const slabM = Math.max(1e-3, (highS - lowS) / slabs);
  const slabOf = (s: number): number => Math.max(0, Math.min(slabs - 1, Math.floor((s - lowS) / slabM)));

  const starts = new Uint32Array(slabs + 1);
  const each = (visit: (segment: number, slab: number) => void): void => {
    for (let i = 0; i < count; i++) {
      const [a, b] = [ends[4 * i] as number, ends[4 * i + 2] as number];
      const last = slabOf(Math.max(a, b));
      for (let slab = slabOf(Math.min(a, b)); slab <= last; slab++) visit(i, slab);
    }
  };
  each((_, slab) => void (starts[slab + 1] = (starts[slab + 1] as number) + 1));
  for (let i = 0; i < slabs; i++) starts[i + 1] = (starts[i + 1] as number) + (starts[i] as number);
  const members = new Uint32Array(starts[slabs] as number);
  const filled = starts.slice(0, slabs);
  each((segment, slab) => {
    members[filled[slab] as number] = segment;
    filled[slab] = (filled[slab] as number) + 1;
  });
  return { thing, ends, count, lowS, slabM, slabs, starts, members };
}

/**
 * The first segment met on the straight step from a to b, into `meeting`; `segment` is −1 when there is none.
 * @param skip things whose entry equals `mark` are walked over
 */
export function firstMet(
  { thing, ends, count, lowS, slabM, slabs, starts, members }: SegmentSlabs,
  aS: number,
  aT: number,
  bS: number,
  bT: number,
  skip: Int32Array,
  mark: number,
  meeting: Meeting,
): void {
  meeting.segment = -1;
  meeting.at = 2;
  if (count === 0) return;
  const dS = bS - aS;
  const dT = bT - aT;
  const lowT = aT < bT ? aT : bT;
  const highT = aT < bT ? bT : aT;
  let first = Math.floor((aS - lowS) / slabM);
  let last = Math.floor((bS - lowS) / slabM);
  if ((first < 0 && last < 0) || (first > slabs && last > slabs)) return;
  first = first < 0 ? 0 : first >= slabs ? slabs - 1 : first;
  last = last < 0 ? 0 : last >= slabs ? slabs - 1 : last;
  const towards = last >= first ? 1 : -1;
  for (let slab = first; ; slab += towards) {
    const end = starts[slab + 1] as number;
    for (let m = starts[slab] as number; m < end; m++) {
      const k = members[m] as number;
      const t0 = ends[4 * k + 1] as number;
      const t1 = ends[4 * k + 3] as number;
      if ((t0 < lowT && t1 < lowT) || (t0 > highT && t1 > highT)) continue;
      if (skip[thing[k] as number] === mark) continue;
      const s0 = ends[4 * k] as number;
      const s1 = ends[4 * k + 2] as number;
      // Signed distances of its ends from the step's line, then of the step's ends from the segment's.
      const p = dS * (t0 - aT) - dT * (s0 - aS);
      const q = dS * (t1 - aT) - dT * (s1 - aS);
      if ((p > 0 && q > 0) || (p < 0 && q < 0) || p === q) continue;
      const eS = s1 - s0;
      const eT = t1 - t0;
      const at = (eS * (t0 - aT) - eT * (s0 - aS)) / (eS * dT - eT * dS);
      if (at >= 0 && at <= 1 && at < meeting.at) {
        meeting.segment = k;
        meeting.at = at;
      }
    }
    if (slab === last) return;
    // What is met inside this slab is met before anything in the next.
    if (meeting.segment >= 0) {
      const metS = aS + meeting.at * dS;
      const edge = lowS + (towards > 0 ? slab + 1 : slab) * slabM;
      if (towards > 0 ? metS <= edge : metS >= edge) return;
    }
  }
}
