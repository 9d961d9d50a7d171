/**
 * The contours about a leg laid into its frame once, so that many rays can be sent through them quickly.
 */
import type { LegFrame } from "../geodesy/leg-frame.ts";
import type { LineFeature } from "../map/features.ts";
import { legCull } from "../map/leg-cull.ts";
import { RUN_SEGMENTS, runBoxesOf } from "../map/line-runs.ts";

/** What a ray meets. */
export interface Hit {
  readonly atM: number;
  readonly levelM: number;
}

export class FramedContours {
  /** s, t of all vertices, line after line. */
  readonly #st: Float64Array;
  /** For each run of segments: its first vertex, its last, … */
  readonly #spans: Int32Array;
  /** … least s, least t, greatest s, greatest t … */
  readonly #boxes: Float64Array;
  /** … and its level. */
  readonly #levels: Float64Array;

  /**
   * @param contours lines whose elevation is known
   * @param reachM runs of segments farther from the leg than this are left out
   */
  constructor(frame: LegFrame, contours: readonly LineFeature[], reachM: number) {
    const misses = legCull(frame, reachM);
    const kept: { readonly line: LineFeature; readonly first: number; readonly last: number }[] = [];
    let vertices = 0;
    for (const line of contours) {
      const boxes = runBoxesOf(line);
      const end = (line.coords.length >> 1) - 1;
      for (let run = 0; run < boxes.length / 4; run++) {
        if (misses(boxes, run)) continue;
        const first = run * RUN_SEGMENTS;
        const last = Math.min(end, first + RUN_SEGMENTS);
        kept.push({ line, first, last });
        vertices += last - first + 1;
      }
    }
    this.#st = new Float64Array(2 * vertices);
    this.#spans = new Int32Array(2 * kept.length);
    this.#boxes = new Float64Array(4 * kept.length);
    this.#levels = new Float64Array(kept.length);
    let at = 0;
    kept.forEach(({ line, first, last }, run) => {
      const count = last - first + 1;
      frame.project(line.coords, 2 * first, count, this.#st.subarray(2 * at, 2 * (at + count)));
      this.#levels[run] = line.elevationM;
      this.#setRun(run, at, at + count - 1);
      at += count;
    });
  }

  #setRun(run: number, first: number, last: number): void {
    this.#spans[2 * run] = first;
    this.#spans[2 * run + 1] = last;
    let [s0, t0, s1, t1] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let i = first; i <= last; i++) {
      const s = this.#st[2 * i] as number;
      const t = this.#st[2 * i + 1] as number;
      if (s < s0) s0 = s;
      if (s > s1) s1 = s;
      if (t < t0) t0 = t;
      if (t > t1) t1 = t;
    }
    this.#boxes.set([s0, t0, s1, t1], 4 * run);
  }

  /**
   * Where the straight line from one place to another, both in the frame, passes through contours, nearest first.
   * A vertex on the line counts to its right side, so that passing through counts once and touching twice or not at
   * all: how often a level is passed stays even or odd as it should.
   */
  hits(fromS: number, fromT: number, toS: number, toT: number): Hit[] {
    const ds = toS - fromS;
    const dt = toT - fromT;
    const length = Math.hypot(ds, dt);
    const hits: Hit[] = [];
    if (!(length > 0)) return hits;
    const us = ds / length;
    const ut = dt / length;
    const boxes = this.#boxes;
    for (let run = 0; run < this.#levels.length; run++) {
      const hs = ((boxes[4 * run + 2] as number) - (boxes[4 * run] as number)) / 2;
      const ht = ((boxes[4 * run + 3] as number) - (boxes[4 * run + 1] as number)) / 2;
      const cs = (boxes[4 * run] as number) + hs - fromS;
      const ct = (boxes[4 * run + 1] as number) + ht - fromT;
      if (Math.abs(cs * ut - ct * us) > hs * Math.abs(ut) + ht * Math.abs(us)) continue;
      const along = cs * us + ct * ut;
      const half = hs * Math.abs(us) + ht * Math.abs(ut);
      if (along + half < 0 || along - half > length) continue;
      this.#hitsOfRun(run, fromS, fromT, us, ut, length, hits);
    }
    return hits.sort((a, b) => a.atM - b.atM);
  }

  #hitsOfRun(
    run: number,
    fromS: number,
    fromT: number,
    us: number,
    ut: number,
    length: number,
    hits: Hit[],
  ): void {
    const st = this.#st;
    const last = this.#spans[2 * run + 1] as number;
    let before = 0;
    let beforeAlong = 0;
    for (let i = this.#spans[2 * run] as number, first = true; i <= last; i++, first = false) {
      const s = (st[2 * i] as number) - fromS;
      const t = (st[2 * i + 1] as number) - fromT;
      const aside = us * t - ut * s;
      const along = us * s + ut * t;
      if (!first && aside >= 0 !== before >= 0) {
        const atM = beforeAlong + ((along - beforeAlong) * before) / (before - aside);
        if (atM >= 0 && atM <= length) hits.push({ atM, levelM: this.#levels[run] as number });
      }
      before = aside;
      beforeAlong = along;
    }
  }
}
