/**
 * Segments of lines sorted into cells of a grid, for the first one met on a straight step. The grid lies where walkers are
 * expected; what is outside it, segment or step, counts to its outermost cells, so that nothing is lost there, only slower.
 */

export interface SegmentSlabs {
  /** Which thing each segment belongs to, and where on its line it begins, in order of `segment`. */
  readonly thing: Uint16Array;
  /** s, t of both ends. */
  readonly ends: Float64Array;
  readonly count: number;
  readonly minS: number;
  readonly minT: number;
  readonly cellM: number;
  /** Slabs along s, each of so many cells along t. */
  readonly slabs: number;
  readonly bands: number;
  /** Cell c, slab by slab, holds `members[starts[c]]` … `members[starts[c + 1] - 1]`. */
  readonly starts: Uint32Array;
  readonly members: Uint32Array;
}

/** The answer of `firstMet`, written over by the next question. */
export interface Meeting {
  segment: number;
  /** Share of the step, 0–1. */
  at: number;
}

/** Where walkers are expected, metres of the frame. */
export interface Reach {
  readonly minS: number;
  readonly maxS: number;
  readonly minT: number;
  readonly maxT: number;
}

const CELLS_A_SEGMENT = 0.5;
const MOST_CELLS = 8192;
/** Room for rounding at the edges of cells, share of a cell. */
const ROOM = 1e-6;

/** @param lines s, t, s, t … with the number of the thing each belongs to */
export function segmentSlabs(
  lines: readonly { readonly st: ArrayLike<number>; readonly thing: number }[],
  reach: Reach = { minS: -Infinity, maxS: Infinity, minT: -Infinity, maxT: Infinity },
): SegmentSlabs {
  const count = lines.reduce((n, { st }) => n + Math.max(0, (st.length >> 1) - 1), 0);
  const thing = new Uint16Array(count);
  const ends = new Float64Array(4 * count);
  let [lowS, highS, lowT, highT, k] = [Infinity, -Infinity, Infinity, -Infinity, 0];
  for (const { st, thing: of } of lines)
    for (let i = 0; i + 3 < st.length; i += 2, k++) {
      thing[k] = of;
      for (let j = 0; j < 4; j++) ends[4 * k + j] = st[i + j] as number;
      lowS = Math.min(lowS, st[i] as number, st[i + 2] as number);
      highS = Math.max(highS, st[i] as number, st[i + 2] as number);
      lowT = Math.min(lowT, st[i + 1] as number, st[i + 3] as number);
      highT = Math.max(highT, st[i + 1] as number, st[i + 3] as number);
    }
  const [minS, minT] = [Math.max(lowS, reach.minS), Math.max(lowT, reach.minT)];
  const acrossS = Math.min(highS, reach.maxS) - minS;
  const acrossT = Math.min(highT, reach.maxT) - minT;
  // Nothing there, or all of it out of reach: one cell.
  const one = count === 0 || !(acrossS > 0) || !(acrossT > 0);
  const wanted = Math.min(MOST_CELLS, CELLS_A_SEGMENT * count);
  const cellM = one
    ? 1
    : Math.max(0.1, Math.sqrt((acrossS * acrossT) / wanted), acrossS / wanted, acrossT / wanted);
  const slabs = one ? 1 : Math.ceil(acrossS / cellM) || 1;
  const bands = one ? 1 : Math.ceil(acrossT / cellM) || 1;
  const grid = { minS: one ? 0 : minS, minT: one ? 0 : minT, cellM, slabs, bands };

  const starts = new Uint32Array(slabs * bands + 1);
  const each = (visit: (segment: number, cell: number) => void): void => {
    for (let i = 0; i < count; i++) {
      const swap = (ends[4 * i] as number) > (ends[4 * i + 2] as number) ? 2 : 0;
      const s0 = ((ends[4 * i + swap] as number) - grid.minS) / cellM;
      const t0 = ((ends[4 * i + 1 + swap] as number) - grid.minT) / cellM;
      const s1 = ((ends[4 * i + 2 - swap] as number) - grid.minS) / cellM;
      const t1 = ((ends[4 * i + 3 - swap] as number) - grid.minT) / cellM;
      const first = within(Math.floor(s0 - ROOM), slabs);
      const last = within(Math.floor(s1 + ROOM), slabs);
      for (let slab = first; slab <= last; slab++) {
        const a = slab === first ? 0 : share(slab - ROOM - s0, s1 - s0);
        const b = slab === last ? 1 : share(slab + 1 + ROOM - s0, s1 - s0);
        const [ta, tb] = [t0 + a * (t1 - t0), t0 + b * (t1 - t0)];
        const top = within(Math.floor(Math.max(ta, tb) + ROOM), bands);
        for (let band = within(Math.floor(Math.min(ta, tb) - ROOM), bands); band <= top; band++)
          visit(i, slab * bands + band);
      }
    }
  };
  each((_, cell) => void (starts[cell + 1] = (starts[cell + 1] as number) + 1));
  for (let i = 0; i < slabs * bands; i++) starts[i + 1] = (starts[i + 1] as number) + (starts[i] as number);
  const members = new Uint32Array(starts[slabs * bands] as number);
  const filled = starts.slice(0, slabs * bands);
  each((segment, cell) => {
    members[filled[cell] as number] = segment;
    filled[cell] = (filled[cell] as number) + 1;
  });
  return { thing, ends, count, ...grid, starts, members };
}

const within = (k: number, n: number): number => (k < 0 ? 0 : k >= n ? n - 1 : k);
const share = (part: number, whole: number): number => {
  const f = part / whole;
  return f > 0 ? (f < 1 ? f : 1) : 0;
};

/**
 * The first segment met on the straight step from a to b, into `meeting`; `segment` is −1 when there is none.
 * @param skip things whose entry equals `mark` are walked over
 */
export function firstMet(
  { thing, ends, count, minS, minT, cellM, slabs, bands, starts, members }: SegmentSlabs,
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
  // In cells.
  const cS = (aS - minS) / cellM;
  const cT = (aT - minT) / cellM;
  const eachS = dS / cellM;
  const eachT = dT / cellM;
  const first = within(Math.floor(cS), slabs);
  const last = within(Math.floor(cS + eachS), slabs);
  const towards = last >= first ? 1 : -1;
  for (let slab = first; ; slab += towards) {
    const a = slab === first ? 0 : share((towards > 0 ? slab : slab + 1) - cS, eachS);
    const b = slab === last ? 1 : share((towards > 0 ? slab + 1 : slab) - cS, eachS);
    const ta = cT + a * eachT;
    const tb = cT + b * eachT;
    const low = within(Math.floor((ta < tb ? ta : tb) - ROOM), bands);
    const high = within(Math.floor((ta < tb ? tb : ta) + ROOM), bands);
    // Cells of one slab follow each other.
    const end = starts[slab * bands + high + 1] as number;
    for (let m = starts[slab * bands + low] as number; m < end; m++) {
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
    // What is met inside this slab is met before anything in the next.
    if (slab === last || (meeting.segment >= 0 && meeting.at <= b)) return;
  }
}
