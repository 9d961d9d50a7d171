/** Lines along the ways water runs: where enough ground drains through, joined from each head down to where it ends. */
import type { Drainage } from "./flow.ts";

export interface FlowLine {
  /** Samples from the head down; the last is the mouth, or the sample of a bigger line that this one runs into. */
  readonly samples: Int32Array;
  /** Column, row pairs, one for each sample, smoothed by no more than half a cell. Lines that meet share a position. */
  readonly coords: Float64Array;
  /** Whether it ends on a bigger line. */
  readonly joins: boolean;
}

/** A D8 line runs in steps of 45°; averaging with its neighbours this often takes the steps out. */
const SMOOTHINGS = 4;
/** How far smoothing may move a position, cells. */
const MOST_MOVED = 0.5;

/**
 * Lines through all samples with at least `leastM2` upstream. Where lines meet, the one with most upstream goes on
 * and the others end there.
 */
export function flowLines({ receiver, upstreamM2 }: Drainage, columns: number, leastM2: number): FlowLine[] {
  const members: number[] = [];
  const at = new Map<number, number>();
  for (let i = 0; i < upstreamM2.length; i++)
    if (upstreamM2[i]! >= leastM2) {
      at.set(i, members.length);
      members.push(i);
    }
  // Along a way down upstream ground only grows, so what a member drains to is a member as well.
  const down = Int32Array.from(members, (i) => at.get(receiver[i]!) ?? -1);
  const main = new Int32Array(members.length).fill(-1);
  for (let m = 0; m < members.length; m++) {
    const d = down[m]!;
    if (d < 0) continue;
    const rival = main[d]!;
    if (rival < 0 || upstreamM2[members[m]!]! > upstreamM2[members[rival]!]!) main[d] = m;
  }

  const { x, y } = smoothed(members, columns, main, down);
  const lines: FlowLine[] = [];
  for (let head = 0; head < members.length; head++) {
    if (main[head]! >= 0) continue;
    const line = [head];
    let m = head;
    let joins = false;
    while (down[m]! >= 0) {
      const d = down[m]!;
      line.push(d);
      if (main[d] !== m) {
        joins = true;
        break;
      }
      m = d;
    }
    if (line.length < 2) continue;
    const coords = new Float64Array(2 * line.length);
    line.forEach((k, n) => {
      coords[2 * n] = x[k]!;
      coords[2 * n + 1] = y[k]!;
    });
    lines.push({ samples: Int32Array.from(line, (k) => members[k]!), coords, joins });
  }
  return lines;
}

/** Positions of members, averaged along their line: by member, not by line, so that a side line still meets its main one. */
function smoothed(
  members: readonly number[],
  columns: number,
  main: Int32Array,
  down: Int32Array,
): { x: Float64Array; y: Float64Array } {
  const x0 = Float64Array.from(members, (i) => i % columns);
  const y0 = Float64Array.from(members, (i) => Math.floor(i / columns));
  let x = x0;
  let y = y0;
  for (let pass = 0; pass < SMOOTHINGS; pass++) {
    const nx = x.slice();
    const ny = y.slice();
    for (let m = 0; m < members.length; m++) {
      const a = main[m]!;
      const b = down[m]!;
      if (a < 0 || b < 0) continue;
      const dx = (x[a]! + 2 * x[m]! + x[b]!) / 4 - x0[m]!;
      const dy = (y[a]! + 2 * y[m]! + y[b]!) / 4 - y0[m]!;
      const far = Math.hypot(dx, dy);
      const share = far > MOST_MOVED ? MOST_MOVED / far : 1;
      nx[m] = x0[m]! + dx * share;
      ny[m] = y0[m]! + dy * share;
    }
    x = nx;
    y = ny;
  }
  return { x, y };
}
